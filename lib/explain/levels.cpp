// How a level was made: where it begins, and what moved it.
#include "explain/teller.hpp"
#include "explain/words.hpp"

namespace racking::explain {

using context::Decision;
using context::Step;
using context::TracedReading;
using lexicon::SenseKind;
using lexicon::Shift;
using match::Mention;

void Teller::level(const TracedReading& reading, Dimension dimension) {
  for (const Decision& step : reading.decisions) {
    switch (step.step) {
      case Step::level: case Step::level_alone: case Step::level_fragment: case Step::phrase:
      case Step::absence: case Step::score:
        base(step, dimension);
        break;
      case Step::shifted: case Step::denial_leaves: case Step::denial_open: case Step::denial_only:
        change(step, dimension);
        break;
      default: break;
    }
  }
}

void Teller::base(const Decision& from, Dimension dimension) {
  const std::string noun(name_of(dimension));
  const std::string steps = range_words(dimension, from.after);
  switch (from.step) {
    case Step::absence:
      return add("level", lexicon_.string(cue(from).id), span(from.first, from.last),
                 "read as " + noun + ", " + steps + ": " +
                     quoted(work_.cues[from.index].first, work_.cues[from.index].last) +
                     " denies " + quoted(from.first, from.last) +
                     " itself, and what is not there is at the lowest step");
    case Step::score:
      return add("level",
                 from.index == lexicon::none
                     ? std::string_view{} : lexicon_.string(lexicon_.measures[from.index].id),
                 span(from.first, from.last),
                 "read as " + noun + ", " + steps + ": " + quoted(from.first, from.last) +
                     " is a mark on the writer's own scale, taken as a share of five steps");
    default: return base_level(from, dimension);
  }
}

void Teller::base_level(const Decision& from, Dimension dimension) {
  const Mention* its = mention(from.index);
  if (its == nullptr) return;
  const std::string noun(name_of(dimension));
  std::string what = noun + ", " + range_words(dimension, from.after);
  std::string how = "a word for how much";
  switch (from.step) {
    case Step::phrase: how = "a phrase that says so by itself"; break;
    case Step::level_alone: how += ", which speaks of " + noun + " where it stands alone"; break;
    case Step::level_fragment:
      how += ", which speaks of " + noun + " where it is all that stands between two marks";
      break;
    case Step::level:
      if (from.last > from.first) how += ", said of " + quoted(from.first, from.last);
      break;
    default: break;
  }
  words(*its, {what, how, from.step == Step::phrase ? SenseKind::phrase : SenseKind::level,
               lexicon::none});
  out_.reasons.back().what = "level";
  sense(from.index);
}

void Teller::shift(const Decision& step, Dimension dimension) {
  const std::string words = quoted(step.first, step.last);
  std::string how;
  switch (static_cast<Shift>(step.index)) {
    case Shift::up: how = " moves it further out"; break;
    case Shift::down: how = " moves it toward the middle"; break;
    case Shift::high: how = " means the upper half of it"; break;
    case Shift::low: how = " means the lower half of it"; break;
  }
  how += step.before == step.after ? ", which leaves it at " : ", to ";
  add("level", "", span(step.first, step.last), words + how + range_words(dimension, step.after));
}

void Teller::change(const Decision& step, Dimension dimension) {
  if (step.step == Step::shifted) return shift(step, dimension);
  const std::string words = quoted(step.first, step.last);
  if (step.step == Step::denial_only)
    return add("level", "", span(step.first, step.last),
               "denied, with no level of its own: " + words + ", of the same noun, says the level, " +
                   range_words(dimension, step.after) + ", and the denial leaves none that agrees");
  const std::string_view rule = lexicon_.string(cue(step).id);
  if (step.step == Step::denial_open)
    return add("level", rule, span(step.first, step.last),
               "denied, with no level: " + words + " denies it, and what is left lies on both sides");
  add("level", rule, span(step.first, step.last),
      words + " denies it, which leaves " + range_words(dimension, step.after));
}

}  // namespace racking::explain
