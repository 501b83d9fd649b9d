// What each record refers to, said once: for the checks of a blob and for re-pooling.
#pragma once

#include <cstddef>

#include "lexicon/compiled.hpp"

namespace racking::lexicon {

// What the members of a Range are.
enum class Refers : std::uint8_t { descriptors, compounds, traits, faults, words, strings, bands, slots };

inline constexpr std::size_t stop_bits = 15, tell_bits = 32, role_count = 12, shift_count = 4,
                             frame_count = 8,
                             phase_count = 5, sight_kind_count = 7, number_role_count = 7,
                             name_kind_count = 5;

// A visitor has text(StringRef&), list(Range&, Refers), value(byte, count), which may be
// unset with optional(byte, count), and bits(mask, count).
template <class Visitor>
void visit(DescriptorRecord& r, Visitor& v) {
  v.text(r.id), v.text(r.label), v.text(r.gloss);
  v.list(r.parents, Refers::descriptors), v.list(r.children, Refers::descriptors);
  v.list(r.compounds, Refers::compounds);
  v.bits(r.state, state_count), v.bits(r.origin, 4), v.bits(r.is_family, 1);
}
template <class Visitor>
void visit(CompoundRecord& r, Visitor& v) {
  v.text(r.id), v.text(r.label), v.text(r.source);
}
template <class Visitor>
void visit(PhraseRecord& r, Visitor& v) {
  v.list(r.traits, Refers::traits);
  v.optional(r.dimension, dimension_count), v.value(r.low, 6), v.value(r.high, 6);
}
template <class Visitor>
void visit(LevelRecord& r, Visitor& v) {
  v.list(r.traits, Refers::traits);
  for (const auto step : r.low) v.value(step, 6);
  for (const auto step : r.high) v.value(step, 6);
  v.optional(r.alone, dimension_count);
  v.optional(r.fragment, dimension_count);
}
template <class Visitor>
void visit(AnchorRecord& r, Visitor& v) { v.value(r.dimension, dimension_count); }
template <class Visitor>
void visit(ModifierRecord& r, Visitor& v) { v.value(r.shift, shift_count); }
template <class Visitor>
void visit(TraitRecord& r, Visitor& v) { v.text(r.id); }
template <class Visitor>
void visit(HueRecord& r, Visitor& v) { v.value(r.hue, hue_count); }
template <class Visitor>
void visit(SightRecord& r, Visitor& v) {
  v.text(r.value);
  v.value(r.kind, sight_kind_count), v.value(r.low, 6), v.value(r.high, 6);
}
template <class Visitor>
void visit(FaultRecord& r, Visitor& v) {
  v.text(r.caution);
  v.list(r.compounds, Refers::compounds), v.list(r.confused_with, Refers::faults);
  v.value(r.fault, fault_count);
}
template <class Visitor>
void visit(SuspicionRecord& r, Visitor& v) {
  v.text(r.remark);
  v.list(r.any, Refers::descriptors), v.list(r.with, Refers::descriptors);
  v.list(r.traits, Refers::traits), v.list(r.names, Refers::strings);
  v.value(r.fault, fault_count), v.bits(r.has_companions, 1), v.bits(r.flags, 3);
}
template <class Visitor>
void visit(EvidenceRecord& r, Visitor& v) {
  v.text(r.id), v.text(r.because);
  v.list(r.values, Refers::strings), v.list(r.unless, Refers::strings);
  v.value(r.cue, age_cue_count), v.bits(r.wine, 4), v.bits(r.points_to, 1);
  v.value(r.weight, 10), v.bits(r.supports, 1), v.bits(r.unless_sweet, 1), v.value(r.low, 6), v.value(r.high, 6);
}
template <class Visitor>
void visit(NameRecord& r, Visitor& v) {
  v.text(r.name);
  v.value(r.kind, name_kind_count), v.optional(r.colour, 4), v.optional(r.style, 4);
}
template <class Visitor>
void visit(CueRecord& r, Visitor& v) {
  v.text(r.id), v.text(r.because);
  v.bits(r.stops, stop_bits), v.bits(r.is_stop, stop_bits), v.bits(r.state, state_count);
  v.value(r.role, role_count), v.optional(r.stance, 3), v.optional(r.when, 4);
  v.optional(r.frame, frame_count), v.optional(r.phase, phase_count);
  v.optional(r.texture, 2), v.optional(r.list, 7);
  v.value(r.strength_low, 6), v.value(r.strength_high, 6), v.bits(r.contrasted, 1);
  v.bits(r.bare, 1);
}
template <class Visitor>
void visit(KnownRecord& r, Visitor& v) {
  v.bits(r.is_talk, 1), v.optional(r.colour, 4), v.optional(r.style, 4);
}
template <class Visitor>
void visit(TellRecord& r, Visitor& v) {
  v.text(r.word), v.bits(r.tells, tell_bits);
}
template <class Visitor>
void visit(SlotRecord& r, Visitor& v) {
  v.text(r.id);
  v.list(r.own, Refers::words), v.list(r.includes, Refers::slots), v.list(r.words, Refers::words);
  v.word(r.word), v.bits(r.names, name_kind_count);
}
template <class Visitor>
void visit(SenseRuleRecord& r, Visitor& v) {
  v.text(r.id), v.text(r.because);
  for (Range* range : {&r.next, &r.previous, &r.not_next, &r.not_previous})
    v.list(*range, Refers::words);
  for (const auto mask : {r.among, r.choose, r.next_kinds, r.previous_kinds, r.company})
    v.bits(mask, sense_kind_count);
  v.bits(r.phases, phase_count), v.bits(r.first, 1), v.value(r.capital, 3), v.bits(r.is_named, 1);
  v.value(r.alone, 3);
}
template <class Visitor>
void visit(MeasureRecord& r, Visitor& v) {
  v.text(r.id), v.text(r.pattern), v.text(r.unit), v.text(r.begins);
  v.value(r.kind, quantity_kind_count), v.optional(r.frame, frame_count), v.bits(r.decoy, 1);
}
template <class Visitor>
void visit(UnitRecord& r, Visitor& v) {
  v.text(r.id), v.text(r.name), v.text(r.source), v.list(r.aliases, Refers::strings);
  v.value(r.kind, quantity_kind_count);
}
template <class Visitor>
void visit(BandRecord& r, Visitor& v) {
  v.text(r.id), v.text(r.name), v.text(r.unit);
  v.text(r.authority), v.text(r.source), v.text(r.as_of);
  v.list(r.terms, Refers::strings), v.list(r.beyond, Refers::bands);
  v.value(r.kind, quantity_kind_count), v.value(r.rule, 3);
  v.bits(r.styles, 4), v.bits(r.colours, 4), v.bits(r.undosed, 1), v.bits(r.remark, 1);
}
template <class Visitor>
void visit(NumberRecord& r, Visitor& v) {
  v.word(r.word), v.value(r.role, number_role_count);
}
template <class Visitor>
void visit(InflectionRecord& r, Visitor& v) {
  v.text(r.ending), v.text(r.replace), v.value(r.kind, 2), v.value(r.after, 3);
}
template <class Visitor>
void visit(ExceptionRecord& r, Visitor& v) {
  v.text(r.form), v.list(r.made, Refers::strings), v.value(r.kind, 2);
}
template <class Visitor>
void visit(AffixRecord& r, Visitor& v) {
  v.text(r.text), v.text(r.replace), v.bits(r.is_prefix, 1);
}

// The tables whose records `visit` knows.
#define RACKING_LEXICON_RECORDS(X)                                                        \
  X(descriptors) X(compounds) X(phrases) X(levels) X(anchors) X(modifiers) X(traits)      \
  X(hues) X(sights) X(faults) X(suspicions) X(evidence) X(names) X(cues) X(knowns) X(tells)\
  X(sense_rules) X(measures) X(units) X(bands) X(numbers) X(inflections) X(exceptions)    \
  X(affixes) X(slots)

}  // namespace racking::lexicon
