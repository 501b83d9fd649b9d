#include "explain/teller.hpp"

#include <algorithm>
#include <array>
#include <bit>

#include "explain/again.hpp"
#include "explain/words.hpp"
#include "match/spelling.hpp"

namespace racking::explain {

using context::Attribute;
using context::Decision;
using context::Step;
using context::TracedReading;
using lexicon::CueRecord;
using lexicon::Sense;
using lexicon::SenseKind;
using lexicon::SenseRuleRecord;
using lexicon::Shift;
using match::Mention;

namespace {

// The last word on an attribute decides: what refines a phase comes after its cue.
const Decision* decided(const TracedReading& reading, Attribute attribute,
                        std::initializer_list<Step> steps) {
  const Decision* found = nullptr;
  for (const Decision& one : reading.decisions)
    if (one.attribute == attribute && std::find(steps.begin(), steps.end(), one.step) != steps.end())
      found = &one;
  return found;
}

const Decision* step_of(const TracedReading& reading, std::initializer_list<Step> steps) {
  for (const Decision& one : reading.decisions)
    if (std::find(steps.begin(), steps.end(), one.step) != steps.end()) return &one;
  return nullptr;
}

constexpr std::initializer_list<Step> base_steps = {
    Step::level, Step::level_alone, Step::level_fragment, Step::phrase, Step::absence, Step::score};

std::string lexicon_label(Descriptor descriptor) {
  std::string out(descriptor.label());
  const Descriptor family = descriptor.family();
  if (family && family != descriptor) out.append(" (").append(family.label()).append(")");
  return out;
}

}  // namespace

Teller::Teller(const Note::Content& note, const context::Workspace& work)
    : note_(note), work_(work), lexicon_(*note.lexicon.compiled()),
      forms_(forms_of(*note.machine)) {}

// ---- small things ----

void Teller::add(std::string_view what, std::string_view rule, Span span, std::string words) {
  out_.reasons.push_back({what, std::string(rule), span, sentence(std::move(words))});
}

Explanation Teller::finish() {
  for (const Reason& reason : out_.reasons) {
    if (!out_.text.empty()) out_.text += ' ';
    out_.text += reason.because;
  }
  return std::move(out_);
}

Span Teller::span(std::uint32_t first, std::uint32_t last) const { return work_.span(first, last); }

std::string Teller::quoted(Span span) const {
  return explain::quoted(std::string_view(note_.text).substr(span.begin, span.size()));
}
std::string Teller::quoted(std::uint32_t first, std::uint32_t last) const {
  return quoted(span(first, last));
}

const Mention* Teller::mention(std::uint32_t index) const {
  return index < work_.mentions.size() ? &work_.mentions[index] : nullptr;
}

const CueRecord& Teller::cue(const Decision& decision) const {
  return lexicon_.cues[work_.cues[decision.index].record];
}

std::string Teller::because(const CueRecord& cue) const {
  const std::string_view own = lexicon_.string(cue.because);
  return own.empty() ? default_because(cue) : std::string(own);
}

void Teller::by_cue(std::string_view what, std::string_view label, const Decision& decision) {
  const CueRecord& record = cue(decision);
  add(what, lexicon_.string(record.id), span(decision.first, decision.last),
      std::string(label) + ": " + quoted(decision.first, decision.last) + ' ' + because(record));
}

// ---- words and forms ----

std::string Teller::named(const Mention& mention, const Meaning& meaning, std::string& rule) {
  for (const Sense& sense : lexicon_.senses_of(mention.node)) {
    if (sense.kind != meaning.kind ||
        (meaning.index != lexicon::none && sense.index != meaning.index))
      continue;
    const auto origin = forms_.origin(mention.node, sense);
    std::string out;
    if (origin) {
      rule = origin->rule;
      const bool plural = (sense.flags & Sense::inflected) != 0;
      const bool adjective = (sense.flags & Sense::derived) != 0;
      if (plural || adjective)
        out = (plural ? "the plural of " : "the adjective of ") + explain::quoted(origin->form) +
              ", " + meaning.named;
      if ((sense.flags & Sense::stripped) != 0)
        out += (out.empty() ? meaning.named + ", " + explain::quoted(origin->form) + "," : "") +
               std::string(" written without its accents");
    } else {
      out = meaning.named;
    }
    if ((sense.flags & Sense::shorthand) != 0) out += ", an abbreviation";
    return out;
  }
  return meaning.named;
}

// The words of a mention, each as it was read: a form may have a slot in its place.
std::string Teller::read_as(const Mention& mention) const {
  lexicon::Words words;
  for (std::uint32_t t = mention.first; t < mention.last; ++t) {
    const Span its = span(t, t + 1);
    words.push_back(work_.known[t].id != 0
                        ? forms_.word(work_.known[t].id)
                        : std::string(std::string_view(note_.text).substr(its.begin, its.size())));
  }
  return lexicon::joined(words);
}

void Teller::words(const Mention& mention, const Meaning& meaning) {
  std::string rule;
  const std::string how = named(mention, meaning, rule);
  std::string words = mention.shares()    ? explain::quoted(forms_.text(mention.node))
                      : mention.respelled ? explain::quoted(read_as(mention))
                                          : quoted(mention.first, mention.last);
  add("words", "", span(mention.first, mention.last),
      "read as " + meaning.what + ": " + words + " is " + how);
  if (!rule.empty()) {
    out_.reasons.back().what = "form";
    out_.reasons.back().rule = rule;
  }
  if (mention.respelled) spelling(mention);
  if (mention.shares()) parts(mention);
}

void Teller::spelling(const Mention& mention) {
  const auto tell = [&](std::uint32_t first, std::uint32_t last) {
    for (std::uint32_t t = first; t < last; ++t) {
      if (!std::binary_search(work_.respelled.begin(), work_.respelled.end(), t)) continue;
      add("spelling", "", span(t, t + 1),
          quoted(t, t + 1) + " is no word that a dictionary or the lexicon has, and looks like a "
          "slip of the pen for " + explain::quoted(forms_.word(work_.known[t].id)));
    }
  };
  tell(mention.first, mention.last);
  if (mention.shares()) tell(mention.shared_first, mention.shared_last);
}

void Teller::parts(const Mention& mention) {
  const bool after = mention.shared_first >= mention.last;
  add("parts", "", span(mention.shared_first, mention.shared_last),
      quoted(mention.first, mention.last) + " shares " +
          quoted(mention.shared_first, mention.shared_last) +
          (after ? ", which stands further on, with the item beside it"
                 : ", which stands further back, with the item beside it"));
}

std::string Teller::condition(const Decision& held) const {
  const auto its = [&] { return quoted(held.first, held.last); };
  const auto of_kind = [&] {
    const match::Mention* other = held.first < work_.mention_at.size() &&
                                          work_.mention_at[held.first] != 0
                                      ? mention(work_.mention_at[held.first] - 1) : nullptr;
    return listed(kinds_words(held.index & (other ? other->kinds : held.index)), "or");
  };
  switch (held.step) {
    case Step::next_word: return its() + " follows it";
    case Step::previous_word: return "it follows " + its();
    case Step::next_kind: return its() + ", " + of_kind() + ", follows it";
    case Step::previous_kind: return "it follows " + its() + ", " + of_kind();
    case Step::company: return its() + ", " + of_kind() + ", stands in the same clause";
    case Step::phase: {
      const auto phase = static_cast<Phase>(held.index);
      if (held.last > held.first)
        return its() + " makes it speak " + std::string(phase_words(phase));
      return "no word has said yet which part of the tasting it is of";
    }
    case Step::first:
      if (held.last > held.first)
        return "it stands before the first word of nose or palate, " + its();
      return "no word of nose or palate stands before it";
    case Step::capital: return "it is written with a capital inside a sentence";
    case Step::no_capital: return "it is not written with a capital of its own";
    case Step::alone: return "it is all that stands between two marks";
    default: return {};
  }
}

void Teller::sense(std::uint32_t index) {
  const Mention* its = mention(index);
  if (its == nullptr) return;
  const std::uint32_t claims = its->kinds & lexicon::claiming_kinds;
  if (its->rule == lexicon::none) return;
  const SenseRuleRecord& rule = lexicon_.sense_rules[its->rule];
  std::vector<std::string> held;
  for (const Decision& one : work_.trace->senses[index]) held.push_back(condition(one));
  std::vector<std::string> could = kinds_words(claims & ~kind_bit(its->kind));
  if (could.empty()) could.push_back("a plain word");
  std::string words = quoted(its->first, its->last) + " could be " + listed(could, "or") +
                      ", and is read as " + std::string(kind_words(its->kind)) + ": ";
  const std::string_view own = lexicon_.string(rule.because);
  words += held.empty() && own.empty() ? "nothing near it says otherwise" : listed(held, "and");
  if (!own.empty()) words.append(held.empty() ? "" : "; ").append(own);
  add("sense", lexicon_.string(rule.id), span(its->first, its->last), std::move(words));
  for (const Decision& one : work_.trace->senses[index])
    if (one.last > one.first && one.first != its->first) {
      out_.reasons.back().span = span(one.first, one.last);
      break;
    }
}

// ---- what stands around ----

void Teller::stance(const TracedReading& reading, Stance its) {
  const Span own = reading.span;
  if (step_of(reading, {Step::denial_open, Step::denial_only}) != nullptr) return;   // told already
  const Decision* cue =
      decided(reading, Attribute::stance, {Step::cue, Step::spent_cue});
  if (cue != nullptr && cue->step == Step::cue && its != Stance::stated)
    return by_cue("stance", stance_words(its), *cue);
  if (cue != nullptr && cue->step == Step::spent_cue) {
    add("stance", lexicon_.string(this->cue(*cue).id), span(cue->first, cue->last),
        "stated: " + quoted(cue->first, cue->last) +
            " is in the level already, which says what is left");
    return;
  }
  if (cue != nullptr) return by_cue("stance", stance_words(its), *cue);
  add("stance", "", own, "stated: nothing near it denies it or leaves it in doubt");
}

void Teller::when(const TracedReading& reading, When its) {
  const Decision* cue = decided(reading, Attribute::when, {Step::cue});
  if (cue == nullptr) return;
  // "will gain" sets the frame and the time at once, and is told once.
  const Decision* frame = decided(reading, Attribute::frame, {Step::cue});
  if (frame == nullptr || frame->index != cue->index) by_cue("when", when_words(its), *cue);
}

void Teller::frame(const TracedReading& reading, Frame its) {
  const Decision* by = decided(reading, Attribute::frame,
                               {Step::cue, Step::in_name, Step::measure_frame, Step::welcome});
  const bool by_whole = work_.no_note && (by == nullptr || by->step == Step::cue);
  if (by_whole && its == Frame::other) {
    std::string words = std::string(frame_words(its)) +
                        ": the text as a whole does not seem to speak of a wine";
    if (by == nullptr) return add("frame", "", reading.span, std::move(words));
    const CueRecord& record = cue(*by);
    return add("frame", lexicon_.string(record.id), span(by->first, by->last),
               words + "; " + quoted(by->first, by->last) + ' ' + because(record) + " besides");
  }
  if (by == nullptr) return;
  if (by->step == Step::cue) {
    const bool later = static_cast<Frame>(cue(*by).frame) == its;
    if (later) by_cue("frame", frame_words(its), *by);
  } else if (by->step == Step::welcome) {
    add("frame", "", span(by->first, by->last),
        "an aside, and no fault: " + quoted(by->first, by->last) + " says that it is meant so");
  } else if (by->step == Step::in_name) {
    add("frame", "", span(by->first, by->last),
        std::string(frame_words(its)) + ": " + quoted(by->first, by->last) +
            ", right beside it, has a capital too and is nothing else that the lexicon knows");
  }
}

void Teller::phase(const TracedReading& reading, Phase its) {
  const Decision* by =
      decided(reading, Attribute::phase,
              {Step::cue, Step::sight_beside, Step::palate_opened, Step::phase_of_level});
  const std::string label(phase_words(its));
  if (by == nullptr)
    return add("phase", "", reading.span,
               label + ": nothing near it says which part of the tasting it is of");
  const std::string words = quoted(by->first, by->last);
  switch (by->step) {
    case Step::sight_beside:
      return add("phase", "", span(by->first, by->last),
                 label + ": " + words + ", in the same clause, is about the look");
    case Step::palate_opened:
      return add("phase", lexicon_.string(cue(*by).id), span(by->first, by->last),
                 label + ": under a heading of the nose, " + words +
                     " is a level, so the palate has begun");
    case Step::phase_of_level: {
      const std::string own = its == Phase::finish ? "a length is of the finish"
                                                   : "a level is not read with the nose";
      const Decision* before = decided(reading, Attribute::phase, {Step::cue});
      if (before == nullptr) return add("phase", "", reading.span, label + ": " + own);
      const CueRecord& record = cue(*before);
      return add("phase", lexicon_.string(record.id), span(before->first, before->last),
                 label + ": " + quoted(before->first, before->last) + ' ' + because(record) +
                     ", but " + own);
    }
    default: return by_cue("phase", label, *by);
  }
}

void Teller::surroundings(const TracedReading& reading, Stance its_stance, When its_when,
                          Frame its_frame, std::optional<Phase> its_phase) {
  frame(reading, its_frame);
  when(reading, its_when);
  stance(reading, its_stance);
  if (its_phase) phase(reading, *its_phase);
}

void Teller::strength_and_state(const Aroma& one, const TracedReading& reading) {
  if (const Decision* cue = decided(reading, Attribute::strength, {Step::cue}); cue && one.strength)
    by_cue("strength", strength_words(*one.strength), *cue);
  if (const Decision* cue = decided(reading, Attribute::state, {Step::cue}))
    by_cue("state", state_words(static_cast<State>(this->cue(*cue).state)), *cue);
  if (const State own = one.descriptor.state(); own != State::none)
    add("state", "", reading.span,
        state_words(own) + ": the thing itself is, whatever is said of it");
}

// ---- each kind ----

Explanation Teller::aroma(const Aroma& one, const TracedReading& reading) {
  if (const Mention* its = mention(reading.mention))
    words(*its, {lexicon_label(one.descriptor), "one of its names", SenseKind::descriptor,
                 one.descriptor.index()});
  sense(reading.mention);
  surroundings(reading, one.stance, one.when, one.frame, one.phase);
  strength_and_state(one, reading);
  return finish();
}

Explanation Teller::structure(const Reading& one, const TracedReading& reading) {
  level(reading, one.dimension);
  surroundings(reading, one.stance, one.when, one.frame, one.phase);
  return finish();
}

Explanation Teller::trait(const Trait& one, const TracedReading& reading) {
  std::string id(one.id);
  const Mention* its = mention(reading.mention);
  const Decision* from = step_of(reading, base_steps);
  if (its == nullptr && from != nullptr) its = mention(from->index);
  if (its != nullptr) {
    std::string what = "the trait " + explain::quoted(id);
    if (one.dimension) what += " of the " + std::string(name_of(*one.dimension));
    SenseKind kind = its->kind;
    if (kind == SenseKind::level && its->may_be(SenseKind::trait) && !one.dimension)
      kind = SenseKind::trait;
    words(*its, {what, kind == SenseKind::trait ? "one of its words" : "a word that says so too",
                 kind, lexicon::none});
    if (its->kind == SenseKind::level && !one.dimension)
      add("level", "", span(its->first, its->last),
          "it found no noun whose amount it could say, so it says of what kind");
    sense(static_cast<std::uint32_t>(its - work_.mentions.data()));
  }
  if (one.dimension)
    for (const Decision& step : reading.decisions)
      if (step.step == Step::denial_leaves || step.step == Step::denial_open ||
          step.step == Step::denial_only)
        change(step, *one.dimension);
  surroundings(reading, one.stance, one.when, one.frame, one.phase);
  return finish();
}

Explanation Teller::name(const Name& one, const TracedReading& reading) {
  if (const Mention* its = mention(reading.mention))
    words(*its, {"the name of a " + std::string(name_of(one.kind)) + ", " + std::string(one.name),
                 "one of its forms", SenseKind::name, its->index});
  else
    add("words", "", one.span, "the name of a " + std::string(name_of(one.kind)) + ", " +
                                   std::string(one.name) + ", inside other words");
  sense(reading.mention);
  return finish();
}

// What has no phase in the record: a cue that says one is told all the same.
std::optional<Phase> Teller::cued_phase(const TracedReading& reading) const {
  const Decision* by = decided(reading, Attribute::phase, {Step::cue});
  if (by == nullptr) return std::nullopt;
  return static_cast<Phase>(cue(*by).phase);
}

// ---- sight ----

void Teller::place(const Sight& one, const TracedReading& reading) {
  if (!one.hue) return;
  if (const Decision* rim = decided(reading, Attribute::phase, {Step::at_rim}))
    add("place", "", span(rim->first, rim->last),
        "at the rim: " + quoted(rim->first, rim->last) + " goes with it");
  else
    add("place", "", reading.span, "of the core: no word for the rim goes with it");
}

Explanation Teller::sight(const Sight& one, const TracedReading& reading) {
  static constexpr std::array<std::string_view, 7> parts{
      "core", "rim", "depth of colour", "clarity", "deposit", "bubbles", "tears on the glass"};
  std::string what;
  if (one.hue) {
    what = "the colour " + std::string(name_of(*one.hue));
  } else {
    what = std::string(parts[static_cast<std::size_t>(one.part)]);
    if (!one.value.empty()) what += ", " + std::string(one.value);
    if (one.range) what += ", " + steps_words(*one.range) + " of watery to opaque";
  }
  if (const Mention* its = mention(reading.mention))
    words(*its, {what, one.hue ? "one of its names" : "one of the words for it", its->kind,
                 its->index});
  sense(reading.mention);
  place(one, reading);
  surroundings(reading, one.stance, one.when, one.frame, cued_phase(reading));
  return finish();
}

// ---- quantities ----

Explanation Teller::quantity(const Quantity& one, const TracedReading& reading) {
  const Decision* measure = step_of(reading, {Step::measure});
  const std::string kind(name_of(one.kind));
  const Decision* share = step_of(reading, {Step::share_of});
  if (share != nullptr)
    add("measure", "", span(share->first, share->last),
        "read as a share of " + one.of + ": a percentage right before a name, " +
            quoted(share->first, share->last) + ", is a share of it");
  else if (measure == nullptr || measure->index == lexicon::none)
    add("measure", "", reading.span,
        "read as a " + kind + ": " + quoted(reading.span) +
            " is a year, and nothing behind it measures");
  else
    add("measure", lexicon_.string(lexicon_.measures[measure->index].id), reading.span,
        "read as " + kind + ": " + quoted(reading.span) + " is written as " + kind + " is" +
            (one.unit.empty() ? std::string() : ", in " + std::string(one.unit)));
  if (step_of(reading, {Step::measure_frame}) != nullptr)
    add("frame", measure ? lexicon_.string(lexicon_.measures[measure->index].id) : "", reading.span,
        std::string(frame_words(one.frame)) + ": such a measure always is");
  else
    frame(reading, one.frame);
  return finish();
}

// ---- faults ----

void Teller::suspicion(const TracedReading& reading, const std::vector<Span>& spans,
                       std::string_view fault) {
  const Decision& why = reading.decisions.front();
  std::vector<std::string> found;
  if (why.step == Step::hint)
    found.push_back(quoted(why.first, why.last));
  else
    for (const Span one : spans) found.push_back(quoted(one));
  const std::string because = why.step == Step::hint
                                  ? " only suggests it"
                                  : found.size() == 1 ? " may come of it" : " together may come of it";
  add("fault", "", reading.span,
      "read as " + std::string(fault) + ", in doubt: " + listed(found, "and") + because +
          ", and nothing names it");
}

Explanation Teller::fault(const FaultReading& one, const std::vector<Span>& spans,
                          const std::vector<const TracedReading*>& readings) {
  const std::string_view fault = name_of(one.fault);
  for (const TracedReading* reading : readings) {
    const Mention* its = mention(reading->mention);
    if (its == nullptr) {
      suspicion(*reading, spans, fault);
      continue;
    }
    words(*its, {std::string(fault), "one of its names", SenseKind::fault, its->index});
    sense(reading->mention);
    surroundings(*reading, one.stance, one.when, one.frame, cued_phase(*reading));
  }
  return finish();
}

// ---- what is not in the lexicon ----

void Teller::unmapped_word(std::uint32_t token) {
  const std::string words = quoted(token, token + 1);
  const match::Spelling& spelling = spelling_of(*note_.machine);
  const std::string_view key = work_.text.key(work_.text.tokens[token]);
  std::string text = words + " is not in the lexicon";
  if (work_.known[token].id != 0)
    text = "the lexicon has " + words + " only within longer phrases";
  else if (spelling.is_ordinary(key))
    text += "; it is a word of the dictionary, so no slip of the pen";
  else if (const auto like = spelling.like(key); !like.empty()) {
    std::vector<std::string> all;
    for (const std::string_view one : like) all.push_back(explain::quoted(one));
    text += "; it looks like " + listed(all, "or") + ", but not surely enough to be read so";
  }
  add("words", "", span(token, token + 1), std::move(text));
}

Explanation Teller::unmapped(Span its) {
  const auto& tokens = work_.text.tokens;
  for (std::uint32_t t = 0; t < tokens.size(); ++t)
    if (its.contains(tokens[t].span) && tokens[t].kind == text::TokenKind::word) unmapped_word(t);
  return finish();
}

}  // namespace racking::explain
