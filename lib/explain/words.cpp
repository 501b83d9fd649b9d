#include "explain/words.hpp"

#include <array>
#include <bit>

#include "racking/note.hpp"
#include "text/utf8.hpp"

namespace racking::explain {

using lexicon::CueRecord;
using lexicon::Role;
using lexicon::SenseKind;

std::string quoted(std::string_view words) {
  constexpr std::size_t longest = 80;   // code points; a word may be as long as the note
  std::string out = "‘";
  std::size_t count = 0;
  bool space = false;
  for (std::uint32_t at = 0; at < words.size();) {
    const text::Decoded one = text::decode(words, at);
    const std::string_view bytes = words.substr(at, one.length);
    at += one.length;
    if (one.code_point <= ' ' || one.code_point == 0x7F) {
      space = true;
      continue;
    }
    if (count++ == longest) {
      out += "…";
      break;
    }
    if (space && out != "‘") out += ' ';
    space = false;
    out += one.well_formed ? bytes : std::string_view("\xEF\xBF\xBD");
  }
  return out + "’";
}

std::string sentence(std::string words) {
  if (!words.empty() && words[0] >= 'a' && words[0] <= 'z')
    words[0] = static_cast<char>(words[0] - 'a' + 'A');
  if (words.empty() || words.back() != '.') words += '.';
  return words;
}

std::string_view kind_words(SenseKind kind) {
  switch (kind) {
    case SenseKind::descriptor: return "a smell or taste";
    case SenseKind::phrase: return "a phrase of structure";
    case SenseKind::level: return "a word for how much";
    case SenseKind::anchor: return "a noun of structure";
    case SenseKind::modifier: return "a word that moves a level";
    case SenseKind::trait: return "a trait";
    case SenseKind::hue: return "a colour";
    case SenseKind::sight: return "a word for the look";
    case SenseKind::fault: return "a fault";
    case SenseKind::hint: return "a hint of a fault";
    case SenseKind::companion: return "a companion of a fault";
    case SenseKind::name: return "a name";
    case SenseKind::cue: return "a word that says how to read others";
    case SenseKind::known: return "a plain word";
  }
  return {};
}

std::vector<std::string> kinds_words(std::uint32_t kinds) {
  std::vector<std::string> out;
  for (; kinds != 0; kinds &= kinds - 1)
    out.emplace_back(kind_words(static_cast<SenseKind>(std::countr_zero(kinds))));
  return out;
}

std::string steps_words(Interval range) {
  if (range.low == range.high) return "step " + std::to_string(range.low);
  return "steps " + std::to_string(range.low) + " to " + std::to_string(range.high);
}

std::string range_words(Dimension dimension, Interval range) {
  return steps_words(range) + " (" + Note::label(dimension, range) + ")";
}

std::string_view stance_words(Stance stance) {
  switch (stance) {
    case Stance::stated: return "stated";
    case Stance::hedged: return "in doubt";
    case Stance::denied: return "denied";
  }
  return {};
}

std::string_view when_words(When when) {
  switch (when) {
    case When::now: return "now";
    case When::with_air: return "with air";
    case When::later: return "an aside about later";
    case When::before: return "an aside about before";
  }
  return {};
}

std::string_view frame_words(Frame frame) {
  switch (frame) {
    case Frame::tasting: return "of this wine";
    case Frame::pairing: return "an aside about food to serve";
    case Frame::making: return "an aside about how the wine was made";
    case Frame::place: return "an aside about where the vines stand";
    case Frame::serving: return "an aside about serving";
    case Frame::name: return "an aside, part of a name";
    case Frame::outlook: return "an aside about what the wine will become";
    case Frame::other: return "an aside about something other than this glass";
  }
  return {};
}

std::string_view phase_words(Phase phase) {
  switch (phase) {
    case Phase::sight: return "of the look";
    case Phase::nose: return "on the nose";
    case Phase::palate: return "on the palate";
    case Phase::finish: return "at the finish";
    case Phase::overall: return "of the whole wine";
  }
  return {};
}

std::string strength_words(Interval strength) {
  constexpr std::array<std::string_view, 5> steps{"trace", "light", "clear", "marked", "dominant"};
  std::string out(steps[strength.low - 1u]);
  if (strength.high != strength.low) out.append(" to ").append(steps[strength.high - 1u]);
  return out + " in strength";
}

std::string state_words(State state) {
  std::vector<std::string> out;
  for (auto bits = static_cast<unsigned>(state); bits != 0; bits &= bits - 1)
    out.emplace_back(name_of(static_cast<State>(1u << std::countr_zero(bits))));
  return listed(out, "and");
}

namespace {

std::string_view what_it_does(const CueRecord& cue) {
  if (cue.stance != lexicon::unset)
    switch (static_cast<Stance>(cue.stance)) {
      case Stance::denied: return "denies";
      case Stance::hedged: return "leaves in doubt";
      case Stance::stated: return "states";
    }
  if (cue.frame != lexicon::unset) return "sets apart";
  if (cue.when != lexicon::unset) return "gives the time of";
  if (cue.phase != lexicon::unset) return "places in the tasting";
  if (cue.strength_low != 0) return "gives the strength of";
  if (cue.state != 0) return "gives the state of";
  if (cue.texture == 1) return "makes a texture of";
  return "bears on";
}

}  // namespace

std::string default_because(const CueRecord& cue) {
  std::string out(what_it_does(cue));
  switch (static_cast<Role>(cue.role)) {
    case Role::forward: return out + " what follows";
    case Role::backward: return out + " what stands before it";
    case Role::both: return out + " what stands beside it";
    case Role::heading: return out + " what stands under it";
    case Role::here: return out + " it in the word itself";
    case Role::weighed: return out + " its clause, with the words around it";
    case Role::around: return out + " what it stands in";
    case Role::reply: return out + " what was asked";
    case Role::verdict: return out + " what stands right before it, or what was asked";
    case Role::subject: return out + " what its verb says";
    case Role::stop: case Role::decoy: break;
  }
  return out + " nothing";
}

}  // namespace racking::explain
