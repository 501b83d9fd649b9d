// What a Note holds.
#pragma once

#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "racking/lexicon.hpp"
#include "racking/note.hpp"
#include "racking/reader.hpp"

namespace racking {
inline namespace v1 {

struct Note::Content {
  // A note that nobody read.
  explicit Content(Lexicon its)
      : shared(std::make_shared<const Lexicon>(std::move(its))), lexicon(*shared) {}
  // Read by a machine, which holds `its` lexicon and lives as long.
  Content(std::shared_ptr<const Lexicon> its, const Reader::Machine& reader)
      : shared(std::move(its)), machine(&reader), lexicon(*shared) {}

  std::shared_ptr<const Lexicon> shared;
  const Reader::Machine* machine = nullptr;   // what can read the text again; kept by `shared`
  const Lexicon& lexicon;
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
