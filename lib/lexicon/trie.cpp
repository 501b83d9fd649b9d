#include "lexicon/trie.hpp"

#include <algorithm>
#include <bit>
#include <unordered_map>
#include <utility>

#include "lexicon/variants.hpp"
#include "text/fold.hpp"

namespace racking::lexicon {
namespace {

// At most three quarters full: a miss still ends soon, and the embedded tables stay small.
std::size_t table_size(std::size_t used) {
  return std::bit_ceil(std::max<std::size_t>(8, used + used / 3 + 1));
}

template <class Item, class IsEmpty>
void place(std::vector<Item>& table, std::uint64_t hash, const Item& item, IsEmpty is_empty) {
  const std::size_t mask = table.size() - 1;
  std::size_t at = hash & mask;
  while (!is_empty(table[at])) at = (at + 1) & mask;
  table[at] = item;
}

}  // namespace

StringRef Pool::text(std::string_view text) {
  if (text.empty()) return {0, 0};
  const std::uint64_t hash = hash_key(text);
  const auto is_it = [&](std::uint32_t number) { return view(texts_[number - 1]) == text; };
  if (const std::uint32_t known = by_text_.find(hash, is_it)) return texts_[known - 1];
  texts_.push_back({static_cast<std::uint32_t>(tables_.strings.size()),
                    static_cast<std::uint32_t>(text.size())});
  tables_.strings.insert(tables_.strings.end(), text.begin(), text.end());
  by_text_.add(hash, static_cast<std::uint32_t>(texts_.size()));
  return texts_.back();
}

Range Pool::list(std::span<const std::uint32_t> items) {
  if (items.empty()) return {0, 0};
  const Range next{static_cast<std::uint32_t>(tables_.indices.size()),
                   static_cast<std::uint32_t>(items.size())};
  const auto [found, fresh] = lists_.emplace(std::vector(items.begin(), items.end()), next);
  if (fresh) tables_.indices.insert(tables_.indices.end(), items.begin(), items.end());
  return found->second;
}

WordId WordTable::add(std::string_view word) {
  if (const WordId known = find(word)) return known;
  texts_.emplace_back(word);
  ids_.add(hash_key(word), static_cast<WordId>(texts_.size()));
  return static_cast<WordId>(texts_.size());
}

WordId WordTable::find(std::string_view word) const {
  return ids_.find(hash_key(word), [&](WordId id) { return texts_[id - 1] == word; });
}

void WordTable::settle_aliases() {
  aliases_.clear();
  stripped_.clear();
  std::unordered_map<std::string, WordId> alias_of;
  for (std::size_t i = 0; i < texts_.size(); ++i) {
    const auto id = static_cast<WordId>(i + 1);
    if (is_slot_word(texts_[i])) {   // no text has it
      stripped_.push_back(id);
      continue;
    }
    std::string plain = text::fold(texts_[i]);
    if (const WordId own = plain == texts_[i] ? id : find(plain)) {
      stripped_.push_back(own);
      continue;
    }
    const auto [found, fresh] = alias_of.emplace(plain, id);
    stripped_.push_back(found->second);
    if (fresh) aliases_.emplace_back(std::move(plain), id);
  }
}

std::vector<Word> WordTable::table(Pool& pool) const {
  std::vector<Word> out(table_size(texts_.size() + aliases_.size()));
  const auto is_empty = [](const Word& word) { return word.id == 0; };
  for (std::size_t i = 0; i < texts_.size(); ++i)
    place(out, hash_key(texts_[i]), {pool.text(texts_[i]), static_cast<WordId>(i + 1), 0}, is_empty);
  for (const auto& [plain, id] : aliases_)
    place(out, hash_key(plain), {pool.text(plain), id, 1}, is_empty);
  return out;
}

NodeId Trie::child(NodeId from, WordId word) const {
  return edges_.find(hash_edge(from, word), [&](NodeId to) {
    return nodes_[to].from == from && nodes_[to].word == word;
  });
}

NodeId Trie::insert(const std::vector<WordId>& words) {
  NodeId at = 0;
  for (const WordId word : words) {
    NodeId next = child(at, word);
    if (next == 0) {
      next = static_cast<NodeId>(nodes_.size());
      ++nodes_[at].children;
      nodes_.emplace_back(arena_, at, word);
      edges_.add(hash_edge(at, word), next);
    }
    at = next;
  }
  return at;
}

NodeId Trie::find(const std::vector<WordId>& words) const {
  NodeId at = 0;
  for (const WordId word : words)
    if ((at = child(at, word)) == 0) return 0;
  return at;
}

std::vector<WordId> Trie::words_to(NodeId node) const {
  std::vector<WordId> out;
  for (; node != 0; node = nodes_[node].from) out.push_back(nodes_[node].word);
  std::reverse(out.begin(), out.end());
  return out;
}

std::vector<Edge> Trie::edge_table() const {
  std::vector<Edge> out(table_size(nodes_.size()));
  for (NodeId to = 1; to < nodes_.size(); ++to) {
    const Node& node = nodes_[to];
    place(out, hash_edge(node.from, node.word), {node.from, node.word, to, 0},
          [](const Edge& edge) { return edge.to == 0; });
  }
  return out;
}

}  // namespace racking::lexicon
