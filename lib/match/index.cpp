#include "match/index.hpp"

#include <algorithm>
#include <bit>

// Keys are packed as they lie in memory.
static_assert(std::endian::native == std::endian::little);

namespace racking::match {

using lexicon::CompiledLexicon;
using lexicon::SenseKind;

static_assert(lexicon::sense_kind_count <= 14, "kind bits leave room for two more");

MatchIndex::MatchIndex(const CompiledLexicon& lexicon) : lexicon_(lexicon) {
  lexicon::WordId last = 0;
  for (const lexicon::Word& word : lexicon.words) last = std::max(last, word.id);
  roots_.assign(last + 1, 0);

  nodes_.resize(lexicon.nodes.size());
  for (std::size_t i = 0; i < nodes_.size(); ++i) {
    Node& node = nodes_[i];
    const lexicon::Range senses = lexicon.nodes[i].senses;
    for (const lexicon::Sense& sense : lexicon.senses.subspan(senses.begin, senses.count)) {
      std::uint32_t bits = kind_bit(sense.kind);
      if (sense.kind == SenseKind::cue) {
        const lexicon::CueRecord& cue = lexicon.cues[sense.index];
        const auto role = static_cast<lexicon::Role>(cue.role);
        if (role == lexicon::Role::heading) bits |= heads;
        if (role != lexicon::Role::stop && role != lexicon::Role::decoy) bits |= acts;
        node.stops = static_cast<std::uint16_t>(node.stops | cue.is_stop);
      }
      node.kinds = static_cast<std::uint16_t>(node.kinds | bits);
    }
  }
  branches_.push_back({});
  pairs_.assign(std::size_t{1} << (pair_bits - 6), 0);
  // Edges by node, and by word within a node: counted into place, then sorted where several.
  std::vector<std::uint32_t> begins(nodes_.size() + 1, 0);
  for (const lexicon::Edge& edge : lexicon.edges) {
    if (edge.to == 0) continue;
    if (edge.from == 0) roots_[edge.word] = edge.to;
    else ++begins[edge.from + 1];
  }
  for (std::size_t i = 1; i < begins.size(); ++i) begins[i] += begins[i - 1];
  children_.resize(begins.back());
  std::vector<std::uint32_t> next(begins.begin(), begins.end() - 1);
  for (const lexicon::Edge& edge : lexicon.edges) {
    if (edge.to == 0 || edge.from == 0) continue;
    children_[next[edge.from]++] = {edge.word, edge.to};
    const std::uint32_t pair = pair_hash(edge.from, edge.word);
    pairs_[pair >> 6] |= std::uint64_t{1} << (pair & 63);
  }
  for (std::size_t i = 1; i < nodes_.size(); ++i) {
    const std::uint32_t begin = begins[i], end = begins[i + 1];
    if (begin == end) continue;
    std::sort(children_.begin() + begin, children_.begin() + end,
              [](const Child& a, const Child& b) { return a.word < b.word; });
    nodes_[i].branch = static_cast<std::uint32_t>(branches_.size());
    branches_.push_back({begin, end - begin});
  }

  std::size_t count = 0;
  for (const lexicon::Word& word : lexicon.words) count += word.id != 0 ? 1u : 0u;
  words_.resize(std::bit_ceil(std::max<std::size_t>(8, 2 * count)));
  for (const lexicon::Word& word : lexicon.words) {
    const std::string_view key = lexicon.string(word.key);
    if (word.id == 0 || key.size() > longest_short_key) continue;
    const ShortKey packed = pack(key);
    std::size_t at = hash(packed) & (words_.size() - 1);
    while (words_[at].word.id != 0) at = (at + 1) & (words_.size() - 1);
    words_[at] = {packed, known(word.id)};
  }
}

KnownWord MatchIndex::known(lexicon::WordId id) const noexcept {
  const lexicon::NodeId root = roots_[id];
  return {id, root, nodes_[root].kinds, goes_on(root) ? 1u : 0u};
}

KnownWord MatchIndex::long_word(std::string_view key) const noexcept {
  const lexicon::WordId id = lexicon_.word(key);
  return id == 0 ? KnownWord{} : known(id);
}

}  // namespace racking::match
