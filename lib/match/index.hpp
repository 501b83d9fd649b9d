// What matching needs at hand, derived from a lexicon once and laid out for the cache.
#pragma once

#include <array>
#include <cstdint>
#include <cstring>
#include <string_view>
#include <vector>

#include "lexicon/compiled.hpp"

namespace racking::match {

// A word of the lexicon as the matcher sees it.
struct KnownWord {
  lexicon::WordId id = 0;        // 0: no form has the word
  lexicon::NodeId root = 0;      // the node it leads to from the root; 0: it begins no form
};

// Immutable; the lexicon must outlive it.
class MatchIndex {
 public:
  // Beside the kind bits of a node: whether a cue sense acts (is no mere stop or decoy),
  // and whether one heads a section.
  static constexpr std::uint32_t acts = 1u << 14, heads = 1u << 15;

  explicit MatchIndex(const lexicon::CompiledLexicon& lexicon);

  const lexicon::CompiledLexicon& lexicon() const noexcept { return lexicon_; }

  KnownWord word(std::string_view key) const noexcept {
    if (key.size() > longest_short_key) return long_word(key);
    const ShortKey packed = pack(key);
    const std::size_t mask = words_.size() - 1;
    for (std::size_t at = hash(packed) & mask;; at = (at + 1) & mask) {
      const WordSlot& slot = words_[at];
      if (slot.word.id == 0) return {};
      if (slot.key == packed) return slot.word;
    }
  }

  // Kind bits of all senses of a node, `acts` and `heads`.
  std::uint32_t kinds(lexicon::NodeId node) const noexcept { return nodes_[node].kinds; }
  // Stop classes that a node's cues are.
  std::uint16_t stops(lexicon::NodeId node) const noexcept { return nodes_[node].stops; }
  lexicon::NodeId root(lexicon::WordId word) const noexcept { return roots_[word]; }

  lexicon::NodeId step(lexicon::NodeId from, lexicon::WordId word) const noexcept {
    return (nodes_[from].children & child_bit(word)) == 0 ? 0 : lexicon_.step(from, word);
  }
  bool goes_on(lexicon::NodeId node) const noexcept { return nodes_[node].children != 0; }

 private:
  // A key of up to 15 bytes, and its length in the last: compared as two numbers.
  using ShortKey = std::array<std::uint64_t, 2>;
  static constexpr std::size_t longest_short_key = 15;

  struct WordSlot { ShortKey key; KnownWord word; };
  // `children` has a bit for each child's word, so that most misses need no look-up.
  struct Node { std::uint16_t kinds, stops; std::uint32_t children; };

  static ShortKey pack(std::string_view key) noexcept {
    char bytes[16] = {};
    std::memcpy(bytes, key.data(), key.size());
    bytes[15] = static_cast<char>(key.size());
    ShortKey packed;
    std::memcpy(&packed, bytes, sizeof packed);
    return packed;
  }
  static std::size_t hash(const ShortKey& key) noexcept {
    return lexicon::hash::mix(key[0] * lexicon::hash::k0 ^ key[1]);
  }
  static std::uint32_t child_bit(lexicon::WordId word) noexcept {
    return 1u << (word * 0x9e3779b1u >> 27);
  }
  KnownWord long_word(std::string_view key) const noexcept;

  const lexicon::CompiledLexicon& lexicon_;
  std::vector<WordSlot> words_;
  std::vector<lexicon::NodeId> roots_;   // by word id
  std::vector<Node> nodes_;
};

}  // namespace racking::match
