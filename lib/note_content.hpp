// What a Note holds.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "racking/lexicon.hpp"
#include "racking/note.hpp"

namespace racking {
inline namespace v1 {

struct Note::Content {
  explicit Content(Lexicon shared) : lexicon(std::move(shared)) {}

  Lexicon lexicon;
  std::string text;
  std::string_view language = "en";
  Wine wine;
  std::vector<Statement> statements;
  std::vector<Aroma> aromas, aside_aromas;
  std::vector<Reading> readings, aside_readings;
  Structure structure;
  std::vector<Trait> traits, aside_traits;
  std::vector<Sight> sight, aside_sight;
  std::vector<Quantity> quantities;
  Condition condition;
  std::vector<FaultReading> aside_faults;
  Maturity maturity;
  std::vector<Name> names;
  std::vector<Remark> remarks;
  std::vector<Span> unmapped;
  double coverage = 1.0;
  std::vector<TextProblem> problems;

  // Pools that slices point into.
  std::vector<Span> parts;
  std::vector<Cue> cues;
};

}  // namespace v1
}  // namespace racking
