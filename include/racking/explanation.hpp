// Why a reading was read so.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "racking/span.hpp"

namespace racking {
inline namespace v1 {

/// One decision about a reading.
struct Reason {
  /// What was decided, one of: words (what they map to), form (how the word is inflected),
  /// spelling, parts (words shared with a neighbour), sense, level, place (core or rim),
  /// stance, when, frame, phase, strength, state, fault, measure. Static storage.
  std::string_view what;
  /// The id of the lexicon's rule that decided: a cue, a sense rule, a measure, or the
  /// inflection ("plural -y -ies"). Empty where no rule of the lexicon did.
  std::string rule;
  /// The words that decided; those of the reading where none beside it did. Bytes.
  Span span;
  /// A sentence of plain English.
  std::string because;
};

/// Why a reading was read so: every decision that made it what it is, as it was taken. A value.
struct Explanation {
  std::string text;  ///< all reasons, one paragraph
  std::vector<Reason> reasons;
};

}  // namespace v1
}  // namespace racking
