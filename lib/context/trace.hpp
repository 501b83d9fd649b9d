// What a traced reading records of its decisions. Normal reading has no trace, and pays a
// test of a null pointer where it decides.
#pragma once

#include <cstdint>
#include <string_view>
#include <utility>
#include <vector>

#include "lexicon/compiled.hpp"
#include "racking/span.hpp"
#include "racking/vocabulary.hpp"

namespace racking::context {

enum class Attribute : std::uint8_t;

enum class Step : std::uint8_t {
  cue,             // the cue over the word sets `attribute`
  spent_cue,       // … which the level has taken up already: it is stated
  sight_beside,    // phase: a word for the look (the tokens) stands in the same clause
  palate_opened,   // phase: a level (the tokens) under a heading of the nose
  phase_of_level,  // phase: what the dimension itself says
  in_name,         // frame: the tokens make a name with it
  at_rim,          // place: the tokens are a word for the rim
  next_word,       // sense: the rule asks for the word of the tokens right after
  previous_word,
  next_kind,       // sense: … for something of the kinds in `index` in the tokens right after
  previous_kind,
  company,         // … or in the same clause
  phase,           // … for the phase `index`; the tokens are the cue's, if one set it
  first,           // … for standing before the tokens: the first word of nose or palate
  capital,         // … for a capital
  no_capital,
  alone,           // … for being all that stands between two marks
  level,           // range: `index` is a level with a noun, the tokens
  level_alone,     // … a level by itself
  level_fragment,  // … a level that is all between two marks
  phrase,          // … a phrase
  absence,         // … a noun (the tokens) that is denied
  score,           // … a mark on somebody's scale (the tokens)
  shifted,         // range: the modifier of the tokens moves it from `before` to `after`
  denial_leaves,   // range: the denial of cue `index` leaves `after` of `before`
  denial_open,     // range: … leaves nothing of one piece
  denial_only,     // range: … rules out no more than the level beside it says
  hint,            // fault: the tokens suggest it
  suspicion,       // fault: suspicion `index`
  welcome,         // frame of a fault: the tokens say that it is meant so
  measure,         // quantity: measure `index`; a bare year if none
  measure_frame,   // quantity: … which says the frame too
  share_of,        // quantity: the tokens are the name that it is a share of
};

struct Decision {
  Step step = Step::cue;
  Attribute attribute{};
  std::uint32_t first = 0, last = 0;            // tokens
  std::uint32_t index = lexicon::none;
  Interval before{0, 0}, after{0, 0};
};

enum class Written : std::uint8_t { aroma, structure, trait, sight, fault, name, quantity };

// A reading as it was written, and what made it so. Readings of one kind come in the order
// of the note's lists, but for traits, which are sorted by place afterwards.
struct TracedReading {
  Written kind = Written::aroma;
  bool aside = false;
  Span span;
  std::string_view id;                           // descriptor, dimension, trait, fault …
  std::uint32_t mention = lexicon::none;         // into Workspace::mentions
  std::vector<Decision> decisions;
};

struct Trace {
  std::vector<TracedReading> readings;
  std::vector<std::vector<Decision>> senses;      // by mention: why its rule held
  std::vector<std::vector<Decision>> structures;  // by StructureUse::trace
  std::vector<Decision> phases;                   // refined phases; the last that covers a word
  std::vector<std::pair<std::uint32_t, std::uint32_t>> phase_tokens;   // what each covers
  std::vector<Decision> open;                     // of the reading being written

  std::uint32_t start_structure() {
    structures.emplace_back();
    return static_cast<std::uint32_t>(structures.size() - 1);
  }
  void structure(const Decision& decision) { structures.back().push_back(decision); }
  void phase(std::uint32_t begin, std::uint32_t end, const Decision& decision) {
    phase_tokens.emplace_back(begin, end);
    phases.push_back(decision);
  }
  void write(Written kind, bool aside, Span span, std::string_view id,
             std::uint32_t mention = lexicon::none) {
    readings.push_back({kind, aside, span, id, mention, open});
  }
};

}  // namespace racking::context
