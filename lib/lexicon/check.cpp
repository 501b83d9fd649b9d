#include "lexicon/check.hpp"

#include <bit>
#include <cstddef>

#include "lexicon/fields.hpp"

namespace racking::lexicon {
namespace {

// Gathers failures without a branch for each; one look at the end is enough.
class Checker {
 public:
  explicit Checker(const CompiledLexicon& lexicon) : lexicon_(lexicon) {}

  void text(const StringRef& ref) {
    good_ &= std::uint64_t{ref.offset} + ref.length <= lexicon_.strings.size();
  }
  bool inside(const Range& range, std::size_t size) {
    const bool fits = std::uint64_t{range.begin} + range.count <= size;
    good_ &= fits;
    return fits;
  }
  void list(const Range& range, Refers refers) {
    if (!inside(range, lexicon_.indices.size())) return;
    const auto items = lexicon_.range(range);
    if (refers == Refers::strings) {
      good_ &= items.size() % 2 == 0;
      for (std::size_t i = 0; i + 1 < items.size(); i += 2) text({items[i], items[i + 1]});
      return;
    }
    const std::size_t size = size_of(refers);
    for (const std::uint32_t item : items) good_ &= item < size;
  }
  void index(std::uint32_t item, std::size_t size) { good_ &= item < size; }
  void word(WordId id) { good_ &= id != 0 && id < lexicon_.words.size(); }
  void value(std::uint32_t item, std::size_t count) { good_ &= item < count; }
  void optional(std::uint8_t item, std::size_t count) { good_ &= item < count || item == unset; }
  void bits(std::uint32_t mask, std::size_t count) { good_ &= std::uint64_t{mask} >> count == 0; }
  void require(bool condition) { good_ &= condition; }
  bool good() const { return good_; }

 private:
  std::size_t size_of(Refers refers) const {
    switch (refers) {
      case Refers::descriptors: return lexicon_.descriptors.size();
      case Refers::compounds: return lexicon_.compounds.size();
      case Refers::traits: return lexicon_.traits.size();
      case Refers::faults: return fault_count;
      case Refers::words: return lexicon_.words.size();
      case Refers::bands: return lexicon_.bands.size();
      case Refers::slots: return lexicon_.slots.size();
      case Refers::strings: break;
    }
    return 0;
  }

  const CompiledLexicon& lexicon_;
  bool good_ = true;
};

bool check_records(const CompiledLexicon& lexicon) {
  Checker check(lexicon);
#define X(table) \
  for (auto record : lexicon.table) visit(record, check);
  RACKING_LEXICON_RECORDS(X)
#undef X
  return check.good();
}

// Parents are less deep than their children, so that every way up ends at the root.
bool check_hierarchy(const CompiledLexicon& lexicon) {
  const auto all = lexicon.descriptors;
  Checker check(lexicon);
  check.require(!all.empty() && all[0].parents.count == 0 && all[0].depth == 1 &&
                all[0].family == none);
  for (std::size_t i = 1; i < all.size() && check.good(); ++i) {
    check.require(all[i].parents.count != 0);
    check.index(all[i].family, all.size());
    for (const std::uint32_t parent : lexicon.range(all[i].parents))
      check.require(all[parent].depth < all[i].depth);
  }
  return check.good();
}

// A band begins above bands before it, so that no chain of them ends where it began.
bool check_bands(const CompiledLexicon& lexicon) {
  Checker check(lexicon);
  for (std::size_t i = 0; i < lexicon.bands.size(); ++i)
    for (const std::uint32_t other : lexicon.range(lexicon.bands[i].beyond)) check.index(other, i);
  return check.good();
}

bool is_hash_size(std::size_t size) { return std::has_single_bit(size); }

std::size_t word_count(const CompiledLexicon& lexicon) {
  std::size_t count = 0;
  for (const Word& word : lexicon.words) count += word.id != 0 && word.is_alias == 0;
  return count;
}

// The ids are 1 to the number of words, each given once; and a miss ends at an empty slot.
bool check_words(const CompiledLexicon& lexicon) {
  Checker check(lexicon);
  check.require(is_hash_size(lexicon.words.size()));
  const std::size_t count = word_count(lexicon);
  std::vector<bool> given(count + 1, false);
  std::size_t empty = 0;
  for (const Word& word : lexicon.words) {
    check.text(word.key);
    check.bits(word.is_alias, 1);
    empty += word.id == 0;
    if (word.id > count || (word.id != 0 && word.key.length == 0)) return false;
    if (word.id == 0 || word.is_alias != 0) continue;
    if (given[word.id]) return false;
    given[word.id] = true;
  }
  return check.good() && empty != 0;
}

// A tree: every node but the root is led to by one edge, from a node before it.
bool check_edges(const CompiledLexicon& lexicon) {
  const std::size_t count = lexicon.nodes.size();
  Checker check(lexicon);
  check.require(is_hash_size(lexicon.edges.size()) && count != 0);
  std::vector<bool> reached(count, false);
  const std::size_t words = word_count(lexicon);
  std::size_t used = 0;
  for (const Edge& edge : lexicon.edges) {
    if (edge.to == 0) continue;
    if (edge.word == 0 || edge.word > words) return false;
    if (edge.from >= edge.to || edge.to >= count || reached[edge.to]) return false;
    reached[edge.to] = true;
    ++used;
  }
  return check.good() && used + 1 == count && used < lexicon.edges.size();
}

bool check_nodes(const CompiledLexicon& lexicon) {
  Checker check(lexicon);
  for (const Node& node : lexicon.nodes) {
    check.inside(node.senses, lexicon.senses.size());
    if (!check.inside(node.rules, lexicon.indices.size())) return false;
    for (const std::uint32_t rule : lexicon.range(node.rules))
      check.index(rule, lexicon.sense_rules.size());
  }
  const std::size_t sizes[sense_kind_count] = {
      lexicon.descriptors.size(), lexicon.phrases.size(), lexicon.levels.size(),
      lexicon.anchors.size(),     lexicon.modifiers.size(), lexicon.traits.size(),
      lexicon.hues.size(),        lexicon.sights.size(),  lexicon.faults.size(),
      lexicon.faults.size(),      lexicon.suspicions.size(), lexicon.names.size(),
      lexicon.cues.size(),        lexicon.knowns.size()};
  for (const Sense& sense : lexicon.senses) {
    const auto kind = static_cast<std::size_t>(sense.kind);
    if (kind >= sense_kind_count) return false;
    check.index(sense.index, sizes[kind]);
  }
  return check.good();
}

// Sorted as they are searched: hashes once each; spellings by length, then by letters.
bool check_spellings(const CompiledLexicon& lexicon) {
  Checker check(lexicon);
  for (std::size_t i = 1; i < lexicon.ordinary.size(); ++i)
    check.require(lexicon.ordinary[i - 1] < lexicon.ordinary[i]);
  const std::size_t words = word_count(lexicon);
  std::uint32_t length = 1;
  for (const Spelling& spelling : lexicon.spellings) {
    check.text(spelling.key);
    check.require(spelling.word != 0 && spelling.word <= words && spelling.key.length >= length);
    check.bits(spelling.letters & ~(Spelling::alone | Spelling::in_form), 26);
    length = spelling.key.length;
  }
  return check.good();
}

// All that matching asks for: words in order, none of which is a slot.
bool check_slots(const CompiledLexicon& lexicon) {
  Checker check(lexicon);
  const std::size_t words = word_count(lexicon);
  std::vector<bool> is_slot(words + 1, false);
  for (const SlotRecord& slot : lexicon.slots) {
    if (slot.word == 0 || slot.word > words || is_slot[slot.word]) return false;
    is_slot[slot.word] = true;
  }
  for (const SlotRecord& slot : lexicon.slots) {
    WordId last = 0;
    for (const WordId word : lexicon.range(slot.words)) {
      if (word <= last || word > words || is_slot[word]) return false;
      last = word;
    }
    for (const WordId word : lexicon.range(slot.own)) check.require(word != 0 && word <= words);
  }
  return check.good();
}

}  // namespace

const char* check_tables(const CompiledLexicon& lexicon) {
  if (!check_records(lexicon)) return "a record points outside its table";
  if (!check_bands(lexicon)) return "a band begins above itself";
  if (!check_hierarchy(lexicon)) return "the hierarchy does not lead up to one root";
  if (!check_words(lexicon)) return "the table of words is damaged";
  if (!check_edges(lexicon)) return "the trie is damaged";
  if (!check_nodes(lexicon)) return "a form points outside its table";
  if (!check_slots(lexicon)) return "the slots are damaged";
  if (!check_spellings(lexicon)) return "the spellings are damaged";
  return nullptr;
}

}  // namespace racking::lexicon
