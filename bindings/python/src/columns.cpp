#include "columns.hpp"

#include <algorithm>
#include <array>

namespace racking_python {
namespace {

using racking::Note;

template <class Value>
std::int8_t code(const std::optional<Value>& value) {
  return value ? static_cast<std::int8_t>(*value) : no_code;
}

template <class Strings>
std::string joined(const Strings& parts) {
  std::string out;
  for (const auto& part : parts) {
    if (!out.empty()) out += ", ";
    out += part;
  }
  return out;
}

// The first that is not denied, as the record chooses it.
const racking::Sight* seen(const Note& note, racking::SightPart part) {
  for (const auto& sight : note.sight())
    if (sight.part == part && sight.stance != racking::Stance::denied) return &sight;
  return nullptr;
}

const racking::Quantity* quantity_of(const Note& note, racking::QuantityKind kind) {
  for (const auto& quantity : note.quantities())
    if (quantity.kind == kind && quantity.frame != racking::Frame::other) return &quantity;
  return nullptr;
}

std::int8_t hue_code(const racking::Sight* sight) { return sight ? code(sight->hue) : no_code; }

template <class Column>
void append_column(Column& to, const Column& from) {
  to.insert(to.end(), from.begin(), from.end());
}

template <class Column>
void take_column(Column& to, const Column& from, const std::vector<std::size_t>& rows) {
  to.reserve(rows.size());
  for (const std::size_t row : rows) to.push_back(from[row]);
}

// Rows of a long table for the wanted notes; its `note` column is in ascending order.
std::vector<std::size_t> rows_of(const std::vector<std::uint32_t>& note,
                                 const std::vector<std::size_t>& wanted,
                                 std::vector<std::uint32_t>& renumbered) {
  std::vector<std::size_t> rows;
  for (std::size_t at = 0; at < wanted.size(); ++at) {
    const auto number = static_cast<std::uint32_t>(wanted[at]);
    const auto range = std::equal_range(note.begin(), note.end(), number);
    for (auto row = range.first; row != range.second; ++row) {
      rows.push_back(static_cast<std::size_t>(row - note.begin()));
      renumbered.push_back(static_cast<std::uint32_t>(at));
    }
  }
  return rows;
}

// Adds what each visited column of `from` holds to the same column of `to`.
template <class Table, class Each, class Act>
void pairwise(Table& to, const Table& from, Each each, Act act) {
  std::vector<void*> columns;
  each(to, [&](const auto&, auto& column) { columns.push_back(&column); });
  std::size_t at = 0;
  each(from, [&](const auto&, const auto& column) {
    using Column = std::remove_cvref_t<decltype(column)>;
    act(*static_cast<Column*>(columns[at++]), column);
  });
}

const auto notes_of = [](auto& table, auto&& visit) { each_note_column(table, visit); };
const auto aromas_of = [](auto& table, auto&& visit) { each_aroma_column(table, visit); };
const auto levels_of = [](auto& table, auto&& visit) { each_level_column(table, visit); };

}  // namespace

std::int32_t Interner::operator()(std::string_view text) {
  if (const auto found = numbers_.find(text); found != numbers_.end()) return found->second;
  const auto number = static_cast<std::int32_t>(strings_.size());
  numbers_.emplace(text, number);
  strings_.emplace_back(text);
  return number;
}

std::int32_t Columns::state_words(racking::State set) {
  if (set == racking::State::none) return -1;
  const auto bits = static_cast<std::uint16_t>(set);
  if (const auto known = states_.find(bits); known != states_.end()) return known->second;
  std::vector<std::string_view> words;
  for (std::size_t bit = 0; bit < racking::state_count; ++bit) {
    const auto state = static_cast<racking::State>(1U << bit);
    if (has(set, state)) words.push_back(name_of(state));
  }
  return states_[bits] = strings(joined(words));
}

std::int32_t Columns::fault_words(const Note& note) {
  const auto& faults = note.condition().faults;
  if (faults.empty()) return -1;
  std::vector<std::string> words;
  const auto list = [&](racking::Stance stance, const char* before) {
    for (const auto& fault : faults) {
      std::string word = before + std::string(name_of(fault.fault));
      const bool known = std::find(words.begin(), words.end(), word) != words.end();
      if (fault.stance == stance && !known) words.push_back(std::move(word));
    }
  };
  list(racking::Stance::stated, "");
  list(racking::Stance::hedged, "perhaps ");
  list(racking::Stance::denied, "no ");
  return strings(joined(words));
}

void Columns::add_notes_row(const Note& note) {
  notes.missing.push_back(0);
  constexpr std::array<std::string_view, 7> languages = {"en", "fr", "it", "es", "de", "pt", "und"};
  const auto language = std::find(languages.begin(), languages.end() - 1, note.language());
  notes.language.push_back(static_cast<std::int8_t>(language - languages.begin()));
  notes.colour.push_back(code(note.wine().colour));
  notes.style.push_back(code(note.wine().style));
  notes.core.push_back(hue_code(seen(note, racking::SightPart::core)));
  notes.rim.push_back(hue_code(seen(note, racking::SightPart::rim)));
  notes.verdict.push_back(static_cast<std::int8_t>(note.condition().verdict));
  const auto& stage = note.maturity().stage;
  notes.stage_from.push_back(stage ? static_cast<std::int8_t>(stage->first) : no_code);
  notes.stage_to.push_back(stage ? static_cast<std::int8_t>(stage->second) : no_code);
  const racking::Sight* depth = seen(note, racking::SightPart::depth);
  const bool deep = depth != nullptr && depth->range;
  notes.depth_low.push_back(deep ? depth->range->low : std::uint8_t{0});
  notes.depth_high.push_back(deep ? depth->range->high : std::uint8_t{0});
  notes.faults.push_back(fault_words(note));
  const racking::Quantity* alcohol = quantity_of(note, racking::QuantityKind::alcohol);
  const auto number = [](const std::optional<double>& value) { return value ? *value : no_number; };
  notes.alcohol_low.push_back(alcohol ? number(alcohol->value ? alcohol->value : alcohol->low)
                                      : no_number);
  notes.alcohol_high.push_back(alcohol ? number(alcohol->value ? alcohol->value : alcohol->high)
                                       : no_number);
  const racking::Quantity* vintage = quantity_of(note, racking::QuantityKind::vintage);
  notes.vintage.push_back(vintage ? number(vintage->value) : no_number);
  notes.coverage.push_back(note.coverage());
  notes.remarks.push_back(static_cast<std::uint32_t>(note.remarks().size()));
  notes.unmapped.push_back(static_cast<std::uint32_t>(note.unmapped().size()));
  notes.aromas.push_back(static_cast<std::uint32_t>(note.aromas().size()));
}

void Columns::add_aroma(const Note&, const racking::Aroma& aroma, const CodePoints& offsets,
                        bool aside) {
  aromas.note.push_back(static_cast<std::uint32_t>(size() - 1));
  const racking::Span at = offsets(aroma.span);
  aromas.begin.push_back(at.begin);
  aromas.end.push_back(at.end);
  aromas.descriptor.push_back(static_cast<std::int32_t>(aroma.descriptor.index()));
  const racking::Descriptor family = aroma.descriptor.family();
  aromas.family.push_back(family ? static_cast<std::int32_t>(family.index()) : -1);
  aromas.state.push_back(state_words(aroma.state));
  aromas.phase.push_back(static_cast<std::int8_t>(aroma.phase));
  aromas.stance.push_back(static_cast<std::int8_t>(aroma.stance));
  aromas.when.push_back(static_cast<std::int8_t>(aroma.when));
  aromas.frame.push_back(static_cast<std::int8_t>(aroma.frame));
  aromas.strength_low.push_back(aroma.strength ? aroma.strength->low : std::uint8_t{0});
  aromas.strength_high.push_back(aroma.strength ? aroma.strength->high : std::uint8_t{0});
  aromas.respelled.push_back(aroma.respelled ? 1 : 0);
  aromas.aside.push_back(aside ? 1 : 0);
}

void Columns::add_levels(const Note& note) {
  std::uint32_t conflicts = 0;
  std::uint32_t stated = 0;
  for (std::size_t at = 0; at < racking::dimension_count; ++at) {
    const racking::Level& level = note.structure()[static_cast<racking::Dimension>(at)];
    const std::uint8_t low = level.range ? level.range->low : std::uint8_t{0};
    const std::uint8_t high = level.range ? level.range->high : std::uint8_t{0};
    notes.low[at].push_back(low);
    notes.high[at].push_back(high);
    if (!level.stated()) continue;
    ++stated;
    conflicts += level.conflict ? 1 : 0;
    levels.note.push_back(static_cast<std::uint32_t>(size() - 1));
    levels.dimension.push_back(static_cast<std::int8_t>(at));
    levels.low.push_back(low);
    levels.high.push_back(high);
    levels.conflict.push_back(level.conflict ? 1 : 0);
    levels.readings.push_back(static_cast<std::uint32_t>(level.readings.size()));
    const auto& traits = level.traits;
    levels.traits.push_back(traits.empty()       ? -1
                            : traits.size() == 1 ? strings(traits.front())
                                                 : strings(joined(traits)));
  }
  notes.conflicts.push_back(conflicts);
  notes.levels.push_back(stated);
}

void Columns::add(const Note& note, bool ascii) {
  add_notes_row(note);
  const CodePoints offsets(ascii ? std::string_view() : std::string_view(note.text()));
  for (const auto& aroma : note.aromas()) add_aroma(note, aroma, offsets, false);
  for (const auto& aroma : note.aside_aromas()) add_aroma(note, aroma, offsets, true);
  add_levels(note);
}

void Columns::add_missing() {
  each_note_column(notes, [](const std::string& name, auto& column) {
    using Value = typename std::remove_cvref_t<decltype(column)>::value_type;
    if constexpr (std::is_floating_point_v<Value>)
      column.push_back(no_number);
    else if constexpr (std::is_signed_v<Value>)
      column.push_back(Value{-1});
    else
      column.push_back(name == "note.missing" ? Value{1} : Value{0});
  });
}

void Columns::append(const Columns& other) {
  const auto before = static_cast<std::uint32_t>(size());
  const std::size_t aromas_before = aromas.note.size();
  const std::size_t levels_before = levels.note.size();
  const std::size_t notes_before = size();
  const auto append_each = [](auto& to, const auto& from) { append_column(to, from); };
  pairwise(notes, other.notes, notes_of, append_each);
  pairwise(aromas, other.aromas, aromas_of, append_each);
  pairwise(levels, other.levels, levels_of, append_each);
  for (std::size_t at = aromas_before; at < aromas.note.size(); ++at) aromas.note[at] += before;
  for (std::size_t at = levels_before; at < levels.note.size(); ++at) levels.note[at] += before;
  std::vector<std::int32_t> numbers;
  for (const auto& text : other.strings.strings()) numbers.push_back(strings(text));
  const auto renumber = [&](std::vector<std::int32_t>& column, std::size_t from) {
    for (std::size_t at = from; at < column.size(); ++at)
      if (column[at] >= 0) column[at] = numbers[static_cast<std::size_t>(column[at])];
  };
  renumber(notes.faults, notes_before);
  renumber(aromas.state, aromas_before);
  renumber(levels.traits, levels_before);
}

Columns Columns::take(const std::vector<std::size_t>& rows) const {
  Columns out;
  pairwise(out.notes, notes, notes_of,
           [&](auto& to, const auto& from) { take_column(to, from, rows); });
  std::vector<std::uint32_t> aroma_notes;
  const auto aroma_rows = rows_of(aromas.note, rows, aroma_notes);
  pairwise(out.aromas, aromas, aromas_of,
           [&](auto& to, const auto& from) { take_column(to, from, aroma_rows); });
  out.aromas.note = std::move(aroma_notes);
  std::vector<std::uint32_t> level_notes;
  const auto level_rows = rows_of(levels.note, rows, level_notes);
  pairwise(out.levels, levels, levels_of,
           [&](auto& to, const auto& from) { take_column(to, from, level_rows); });
  out.levels.note = std::move(level_notes);
  out.strings = strings;
  return out;
}

void Columns::reserve(std::size_t count) {
  constexpr std::size_t aromas_a_note = 6;
  constexpr std::size_t levels_a_note = 3;
  const auto by = [](std::size_t more) {
    return [more](const auto&, auto& column) { column.reserve(column.size() + more); };
  };
  each_note_column(notes, by(count));
  each_aroma_column(aromas, by(count * aromas_a_note));
  each_level_column(levels, by(count * levels_a_note));
}

void Columns::shrink() {
  each_column(*this, [](const auto&, auto& column) { column.shrink_to_fit(); });
}

}  // namespace racking_python
