// The trie while it is built: every form with the senses that claim it.
#pragma once

#include <cstdint>
#include <memory_resource>
#include <string>
#include <string_view>
#include <vector>

#include "lexicon/pool.hpp"
#include "lexicon/source.hpp"
#include "lexicon/words.hpp"

namespace racking::lexicon {

inline constexpr std::uint32_t no_file = none;   // a Place in the lexicon below an overlay

// The words of all forms, numbered from 1 in the order they come.
class WordTable {
 public:
  WordId add(std::string_view word);
  WordId find(std::string_view word) const;      // exact; 0 if none
  const std::string& text(WordId id) const { return texts_[id - 1]; }
  std::size_t size() const { return texts_.size(); }

  // Fixes which stripped spellings stand for accented words; call when all words are in.
  void settle_aliases();
  // What `word` is found by when written without accents: itself if its alias is its own.
  WordId stripped(WordId word) const { return stripped_[word - 1]; }
  std::vector<Word> table(Pool& pool) const;

 private:
  std::vector<std::string> texts_;
  Slots ids_;
  std::vector<std::pair<std::string, WordId>> aliases_;
  std::vector<WordId> stripped_;   // by word
};

struct Claim {
  Sense sense;
  Place place;
};

class Trie {
 public:
  struct Node {
    Node(Arena* arena, NodeId leads_from, WordId last) : claims(arena), from(leads_from), word(last) {}
    std::pmr::vector<Claim> claims;
    std::uint32_t children = 0;
    NodeId from;
    WordId word;
  };

  explicit Trie(Arena* arena) : arena_(arena) { nodes_.emplace_back(arena, 0, 0); }

  NodeId insert(const std::vector<WordId>& words);
  NodeId child(NodeId from, WordId word) const;   // 0 if none
  NodeId find(const std::vector<WordId>& words) const;   // 0 if none
  std::vector<WordId> words_to(NodeId node) const;
  std::vector<Node>& nodes() { return nodes_; }
  const std::vector<Node>& nodes() const { return nodes_; }
  std::vector<Edge> edge_table() const;

 private:

  Arena* arena_;
  std::vector<Node> nodes_;
  Slots edges_;
};

}  // namespace racking::lexicon
