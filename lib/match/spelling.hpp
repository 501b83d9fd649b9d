// Slips of the pen read as the word that was meant; the text itself stays as it was written.
#pragma once

#include <array>
#include <cstdint>
#include <string_view>
#include <vector>

#include "lexicon/compiled.hpp"
#include "lexicon/ordinary.hpp"
#include "match/index.hpp"
#include "match/mention.hpp"
#include "text/tokens.hpp"

namespace racking::match {

// Edits between two words (an insertion, a deletion, a substitution, a swap of neighbours is
// one each); `most` + 1 if there are more than `most`. Words of up to `longest_slip` bytes.
inline constexpr std::size_t longest_slip = 32;
int edits_between(std::string_view a, std::string_view b, int most) noexcept;

// Immutable; the index must outlive it.
class Spelling {
 public:
  explicit Spelling(const MatchIndex& index);

  // Gives a word that no form has, and no dictionary, that of the one lexicon word within one
  // edit (two from nine letters), if that is, or makes with its neighbours, a form of taste,
  // sight or condition. Only small plain words of five letters or more; capitals only where
  // the whole note has them. Lists the tokens so read, in order. At most 64 words a note are
  // compared, each with all lexicon words of about its length: some 20 µs.
  void respell(const text::TokenizedText& text, std::vector<KnownWord>& known,
               std::vector<std::uint32_t>& respelled) const;

  // Whether a key is written as a dictionary has it; the lexicon words nearest to one, if
  // they are near enough to be slips of each other.
  bool is_ordinary(std::string_view key) const { return ordinary_.has(key); }
  std::vector<std::string_view> like(std::string_view key) const;

 private:
  class Note;
  struct Nearest;
  Nearest nearest(std::string_view key) const;

  const MatchIndex& index_;
  lexicon::OrdinaryWords ordinary_;
  // Where the spellings of each length begin.
  std::array<std::uint32_t, longest_slip + 4> begins_{};
};

// Marks the mentions that rest on respelled tokens (in order), and drops those that are names.
void mark_respelled(const std::vector<std::uint32_t>& respelled, std::vector<Mention>& mentions);

}  // namespace racking::match
