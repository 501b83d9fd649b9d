// What matching needs at hand, derived from a lexicon once and laid out for the cache.
#pragma once

#include <algorithm>
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
  std::uint32_t kinds = 0;       // of that node
  std::uint32_t goes_on = 0;     // whether it has children; whole words copy without stalls
};

// A key of up to 15 bytes, and its length in the last: compared as two numbers.
using ShortKey = std::array<std::uint64_t, 2>;

// Immutable; the lexicon must outlive it.
class MatchIndex {
 public:
  // Beside the kind bits of a node: whether a cue sense acts (is no mere stop or decoy),
  // and whether one heads a section.
  static constexpr std::uint32_t acts = 1u << 14, heads = 1u << 15;

  explicit MatchIndex(const lexicon::CompiledLexicon& lexicon);

  const lexicon::CompiledLexicon& lexicon() const noexcept { return lexicon_; }

  // `key` is of a TokenizedText: bytes are read past its end (key_padding).
  KnownWord word(std::string_view key) const noexcept {
    if (key.size() > longest_short_key) return long_word(key);
    const ShortKey packed = pack_padded(key);
    const std::size_t mask = words_.size() - 1;
    for (std::size_t at = hash(packed) & mask;; at = (at + 1) & mask) {
      const WordSlot& slot = words_[at];
      if (slot.key[0] == packed[0] && slot.key[1] == packed[1]) return slot.word;
      if (slot.word.id == 0) return {};
    }
  }

  // The word of an id, not 0.
  KnownWord known(lexicon::WordId id) const noexcept;

  // Kind bits of all senses of a node, `acts` and `heads`.
  std::uint32_t kinds(lexicon::NodeId node) const noexcept { return nodes_[node].kinds; }
  // Stop classes that a node's cues are.
  std::uint16_t stops(lexicon::NodeId node) const noexcept { return nodes_[node].stops; }
  bool goes_on(lexicon::NodeId node) const noexcept {
    return node != 0 && nodes_[node].branch != 0;
  }

  // The node that `word` leads to from a node that goes on; 0 if none.
  lexicon::NodeId step(lexicon::NodeId from, lexicon::WordId word) const noexcept {
    const std::uint32_t pair = pair_hash(from, word);
    if ((pairs_[pair >> 6] >> (pair & 63) & 1) == 0) return 0;
    const Branch& branch = branches_[nodes_[from].branch];
    const Child* at = children_.data() + branch.begin;
    const Child* const end = at + branch.count;
    if (branch.count > few_children)
      at = std::lower_bound(at, end, word, [](const Child& c, lexicon::WordId w) { return c.word < w; });
    while (at != end && at->word < word) ++at;
    return at != end && at->word == word ? at->node : 0;
  }

 private:
  static constexpr std::size_t longest_short_key = 15;

  static constexpr std::uint32_t few_children = 8;

  struct WordSlot { ShortKey key; KnownWord word; };
  struct Node { std::uint16_t kinds, stops; std::uint32_t branch; };   // branch 0: a leaf
  struct Branch { std::uint32_t begin, count; };   // its children, sorted by word
  struct Child { lexicon::WordId word; lexicon::NodeId node; };

  static ShortKey pack_padded(std::string_view key) noexcept {
    ShortKey packed;
    std::memcpy(&packed, key.data(), sizeof packed);
    const unsigned bits = static_cast<unsigned>(key.size()) * 8;
    const auto keep = [](unsigned count) {
      return count >= 64 ? ~std::uint64_t{0} : (std::uint64_t{1} << count) - 1;
    };
    packed[0] &= keep(bits);
    packed[1] &= bits > 64 ? keep(bits - 64) : 0;
    packed[1] |= std::uint64_t{key.size()} << 56;
    return packed;
  }
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
  // A bit is set for each pair of a node and a child's word; most pairs of neighbours in a
  // text are none, and need look no further.
  static constexpr unsigned pair_bits = 20;
  static std::uint32_t pair_hash(lexicon::NodeId from, lexicon::WordId word) noexcept {
    return (from * 0x9e3779b1u ^ word * 0x85ebca6bu) >> (32 - pair_bits);
  }
  KnownWord long_word(std::string_view key) const noexcept;

  const lexicon::CompiledLexicon& lexicon_;
  std::vector<WordSlot> words_;
  std::vector<lexicon::NodeId> roots_;   // by word id
  std::vector<Node> nodes_;
  std::vector<Branch> branches_;
  std::vector<Child> children_;
  std::vector<std::uint64_t> pairs_;
};

}  // namespace racking::match
