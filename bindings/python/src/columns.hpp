// What many notes say, as columns: plain vectors that Python sees as buffers.
#pragma once

#include <array>
#include <cstdint>
#include <limits>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include <racking/racking.hpp>

#include "code_points.hpp"

namespace racking_python {

// Numbers for strings, in the order of their first use.
class Interner {
 public:
  std::int32_t operator()(std::string_view text);
  const std::vector<std::string>& strings() const noexcept { return strings_; }

 private:
  struct Hash : std::hash<std::string_view> {
    using is_transparent = void;
  };
  std::unordered_map<std::string, std::int32_t, Hash, std::equal_to<>> numbers_;
  std::vector<std::string> strings_;
};

inline constexpr std::int8_t no_code = -1;
inline constexpr double no_number = std::numeric_limits<double>::quiet_NaN();

// A row a note. A code counts from 0 in the order of its enumeration; -1: not said. A step counts
// from 1; 0: not said.
struct NoteColumns {
  std::vector<std::uint8_t> missing;
  std::vector<std::int8_t> language, colour, style, core, rim, verdict, stage_from, stage_to;
  std::vector<std::uint8_t> depth_low, depth_high;
  std::array<std::vector<std::uint8_t>, racking::dimension_count> low, high;
  std::vector<std::int32_t> faults;  // into `strings`
  std::vector<double> alcohol_low, alcohol_high, vintage, coverage;
  std::vector<std::uint32_t> conflicts, aromas, levels, remarks, unmapped;
};

// A row an aroma, asides included.
struct AromaColumns {
  std::vector<std::uint32_t> note, begin, end;  // offsets in code points
  std::vector<std::int32_t> descriptor, family,
      state;  // family by descriptor; state into `strings`
  std::vector<std::int8_t> phase, stance, when, frame;
  std::vector<std::uint8_t> strength_low, strength_high, respelled, aside;
};

// A row for each dimension that a note speaks of.
struct LevelColumns {
  std::vector<std::uint32_t> note;
  std::vector<std::int8_t> dimension;
  std::vector<std::uint8_t> low, high, conflict;
  std::vector<std::uint32_t> readings;
  std::vector<std::int32_t> traits;  // into `strings`
};

class Columns {
 public:
  NoteColumns notes;
  AromaColumns aromas;
  LevelColumns levels;
  Interner strings;

  std::size_t size() const noexcept { return notes.missing.size(); }
  void add(const racking::Note&, bool ascii);
  void add_missing();
  // The rows of `other` after ours.
  void append(const Columns& other);
  // The given notes, in that order.
  Columns take(const std::vector<std::size_t>& rows) const;
  // Room for so many more notes of the usual size.
  void reserve(std::size_t notes);
  void shrink();

 private:
  void add_notes_row(const racking::Note&);
  void add_aroma(const racking::Note&, const racking::Aroma&, const CodePoints&, bool aside);
  void add_levels(const racking::Note&);
  std::int32_t fault_words(const racking::Note&);
  std::int32_t state_words(racking::State);

  std::unordered_map<std::uint16_t, std::int32_t> states_;  // numbers that are known already
};

// Calls `visit(name, column)` for every column of the three tables, "aroma.begin" and so on.
template <class Table, class Visit>
void each_note_column(Table& table, Visit&& visit) {
  visit("note.missing", table.missing);
  visit("note.language", table.language);
  visit("note.colour", table.colour);
  visit("note.style", table.style);
  visit("note.core", table.core);
  visit("note.rim", table.rim);
  visit("note.verdict", table.verdict);
  visit("note.stage_from", table.stage_from);
  visit("note.stage_to", table.stage_to);
  visit("note.depth_low", table.depth_low);
  visit("note.depth_high", table.depth_high);
  for (std::size_t at = 0; at < racking::dimension_count; ++at) {
    const std::string name = "note." + std::string(name_of(static_cast<racking::Dimension>(at)));
    visit(name + "_low", table.low[at]);
    visit(name + "_high", table.high[at]);
  }
  visit("note.faults", table.faults);
  visit("note.alcohol_value_low", table.alcohol_low);
  visit("note.alcohol_value_high", table.alcohol_high);
  visit("note.vintage", table.vintage);
  visit("note.coverage", table.coverage);
  visit("note.conflicts", table.conflicts);
  visit("note.aromas", table.aromas);
  visit("note.levels", table.levels);
  visit("note.remarks", table.remarks);
  visit("note.unmapped", table.unmapped);
}

template <class Table, class Visit>
void each_aroma_column(Table& table, Visit&& visit) {
  visit("aroma.note", table.note);
  visit("aroma.begin", table.begin);
  visit("aroma.end", table.end);
  visit("aroma.descriptor", table.descriptor);
  visit("aroma.family", table.family);
  visit("aroma.state", table.state);
  visit("aroma.phase", table.phase);
  visit("aroma.stance", table.stance);
  visit("aroma.when", table.when);
  visit("aroma.frame", table.frame);
  visit("aroma.strength_low", table.strength_low);
  visit("aroma.strength_high", table.strength_high);
  visit("aroma.respelled", table.respelled);
  visit("aroma.aside", table.aside);
}

template <class Table, class Visit>
void each_level_column(Table& table, Visit&& visit) {
  visit("level.note", table.note);
  visit("level.dimension", table.dimension);
  visit("level.low", table.low);
  visit("level.high", table.high);
  visit("level.conflict", table.conflict);
  visit("level.readings", table.readings);
  visit("level.traits", table.traits);
}

template <class All, class Visit>
void each_column(All& columns, Visit&& visit) {
  each_note_column(columns.notes, visit);
  each_aroma_column(columns.aromas, visit);
  each_level_column(columns.levels, visit);
}

}  // namespace racking_python
