// Whether a word is written as the language writes one, by lists and affixes that are data.
#pragma once

#include <cstdint>
#include <span>
#include <string_view>

#include "lexicon/compiled.hpp"

namespace racking::lexicon {

inline std::uint32_t ordinary_hash(std::string_view word) noexcept {
  return static_cast<std::uint32_t>(hash_key(word) >> 32);
}

// A view of the tables; they must outlive it.
class OrdinaryWords {
 public:
  explicit OrdinaryWords(const Tables& tables)
      : hashes_(tables.ordinary), affixes_(tables.affixes), strings_(tables.strings) {}
  explicit OrdinaryWords(const CompiledLexicon& lexicon)
      : hashes_(lexicon.ordinary), affixes_(lexicon.affixes), strings_(lexicon.strings) {}

  bool empty() const noexcept { return hashes_.empty(); }

  // True if `word` (a–z) is listed, or is a listed word with at most two affixes. Only the
  // longest ending that fits is tried, by every replacement that it has. A word that is none
  // passes once in 60,000 times for 70,000 listed words: 32 bits of a hash are kept.
  bool has(std::string_view word) const { return has(word, 2); }

 private:
  bool has(std::string_view word, int affixes) const;
  bool listed(std::string_view word) const noexcept;
  bool without_ending(std::string_view word, int affixes) const;
  bool without_prefix(std::string_view word, int affixes) const;
  std::string_view text(StringRef ref) const noexcept {
    return {strings_.data() + ref.offset, ref.length};
  }

  std::span<const std::uint32_t> hashes_;   // sorted
  std::span<const AffixRecord> affixes_;
  std::span<const char> strings_;
};

}  // namespace racking::lexicon
