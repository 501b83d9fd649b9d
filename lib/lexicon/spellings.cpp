// The words that a slip may have meant, and the words that are none.
#include <algorithm>
#include <cstring>

#include "lexicon/builder.hpp"
#include "lexicon/ordinary.hpp"

namespace racking::lexicon {
namespace {

constexpr std::size_t shortest_spelling = 4;

constexpr std::uint32_t corrigible =
    kind_bit(SenseKind::descriptor) | kind_bit(SenseKind::phrase) | kind_bit(SenseKind::level) |
    kind_bit(SenseKind::anchor) | kind_bit(SenseKind::modifier) | kind_bit(SenseKind::trait) |
    kind_bit(SenseKind::hue) | kind_bit(SenseKind::sight) | kind_bit(SenseKind::fault) |
    kind_bit(SenseKind::hint);

bool is_meant(const Sense& sense) {
  return (corrigible & kind_bit(sense.kind)) != 0 &&
         (sense.flags & (Sense::derived | Sense::shorthand)) == 0;
}

// A bit for each letter; 0 if the word has anything but letters a–z.
std::uint32_t letters_of(std::string_view key) {
  std::uint32_t letters = 0;
  for (const char c : key) {
    if (c < 'a' || c > 'z') return 0;
    letters |= 1u << (c - 'a');
  }
  return letters;
}

}  // namespace

void Builder::emit_spellings() {
  emit_ordinary();
  emit_affixes();
  const OrdinaryWords ordinary(tables_);
  if (ordinary.empty()) return;   // nothing is known to be a slip
  const std::vector<std::uint32_t> flags = spelling_flags();
  std::vector<bool> named(words_.size() + 1, false);
  for (const Edge& edge : tables_.edges) {
    if (edge.to == 0 || edge.from != 0) continue;
    const Range senses = tables_.nodes[edge.to].senses;
    for (std::uint32_t i = senses.begin; i < senses.begin + senses.count; ++i)
      if (tables_.senses[i].kind == SenseKind::name) named[edge.word] = true;
  }
  for (const Word& word : tables_.words) {
    if (word.id == 0 || word.key.length < shortest_spelling) continue;
    const std::string_view key = pool_.view(word.key);
    const std::uint32_t letters = letters_of(key);
    if (letters == 0) continue;
    // Names and ordinary words are rivals of what can be meant; shorthand is none.
    if (flags[word.id] != 0 || named[word.id] || ordinary.has(key))
      tables_.spellings.push_back({word.key, word.id, letters | flags[word.id]});
  }
  std::sort(tables_.spellings.begin(), tables_.spellings.end(),
            [&](const Spelling& a, const Spelling& b) {
              if (a.key.length != b.key.length) return a.key.length < b.key.length;
              return std::memcmp(pool_.view(a.key).data(), pool_.view(b.key).data(), a.key.length) < 0;
            });
}

void Builder::emit_ordinary() {
  auto& hashes = tables_.ordinary;
  if (base_ != nullptr) hashes.assign(base_->ordinary.begin(), base_->ordinary.end());
  hashes.insert(hashes.end(), source_.ordinary.begin(), source_.ordinary.end());
  if (!std::is_sorted(hashes.begin(), hashes.end())) std::sort(hashes.begin(), hashes.end());
  hashes.erase(std::unique(hashes.begin(), hashes.end()), hashes.end());
}

void Builder::emit_affixes() {   // the base's are taken already
  for (const Affix& affix : source_.affixes)
    tables_.affixes.push_back({pool_.text(affix.text), pool_.text(affix.replace),
                               affix.is_prefix ? std::uint8_t{1} : std::uint8_t{0}, {}});
}

// By word: whether a form of taste, sight or condition has it, and whether it is one alone.
// Edges lead to later nodes, so that a backward pass sees all that follows a node.
std::vector<std::uint32_t> Builder::spelling_flags() const {
  std::vector<const Edge*> edge_to(tables_.nodes.size(), nullptr);
  for (const Edge& edge : tables_.edges)
    if (edge.to != 0) edge_to[edge.to] = &edge;
  std::vector<std::uint32_t> flags(words_.size() + 1, 0);
  std::vector<bool> leads_on(tables_.nodes.size(), false);
  for (std::size_t node = tables_.nodes.size(); node-- > 1;) {
    const Range range = tables_.nodes[node].senses;
    const auto senses = std::span(tables_.senses).subspan(range.begin, range.count);
    const bool ends = std::any_of(senses.begin(), senses.end(), is_meant);
    const Edge* edge = edge_to[node];
    if (edge == nullptr || (!ends && !leads_on[node])) continue;
    leads_on[edge->from] = true;
    flags[edge->word] |= Spelling::in_form;
    if (ends && edge->from == 0) flags[edge->word] |= Spelling::alone;
  }
  return flags;
}

}  // namespace racking::lexicon
