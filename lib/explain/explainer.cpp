#include "explain/explainer.hpp"

#include <algorithm>
#include <optional>
#include <string_view>

#include "explain/again.hpp"
#include "explain/teller.hpp"
#include "racking/error.hpp"

namespace racking::explain {

using context::TracedReading;
using context::Written;

namespace {

[[noreturn]] void unknown() {
  throw Error(ErrorCode::bad_argument, "there is no such reading in this note");
}

const Reader::Machine& machine_of(const Note::Content& note) {
  if (note.machine == nullptr) unknown();
  return *note.machine;
}

// What tells readings of one kind apart, as the trace has it.
std::string_view id(const Aroma& one) { return one.descriptor.id(); }
std::string_view id(const Reading& one) { return name_of(one.dimension); }
std::string_view id(const Trait& one) { return one.id; }
std::string_view id(const Sight& one) { return one.hue ? name_of(*one.hue) : one.value; }
std::string_view id(const Quantity& one) { return name_of(one.kind); }
std::string_view id(const Name& one) { return one.name; }

template <class Element>
bool same(const Element& a, const Element& b) {
  if (a.span != b.span || id(a) != id(b)) return false;
  if constexpr (requires { a.cues; }) return a.cues.begin == b.cues.begin;
  return true;
}

// A reading of the note itself, or a copy of one.
template <class Element>
std::optional<std::size_t> place_in(const std::vector<Element>& all, const Element& one) {
  for (std::size_t i = 0; i < all.size(); ++i)
    if (&all[i] == &one) return i;
  for (std::size_t i = 0; i < all.size(); ++i)
    if (same(all[i], one)) return i;
  return std::nullopt;
}

// How many of the same words and meaning come before it.
template <class Element>
std::size_t rank_of(const std::vector<Element>& all, std::size_t place) {
  std::size_t rank = 0;
  for (std::size_t i = 0; i < place; ++i)
    rank += all[i].span == all[place].span && id(all[i]) == id(all[place]) ? 1u : 0u;
  return rank;
}

}  // namespace

Explainer::Explainer(const Note::Content& note)
    : note_(note), again_(note.shared, machine_of(note)) {
  again_.text = note.text;
  work_.trace = &trace_;
  read_again(*note.machine, work_, again_);
}

template <class Element>
const TracedReading& Explainer::traced(Written kind, const std::vector<Element>& found,
                                       const std::vector<Element>* asides,
                                       const Element& one) const {
  const std::vector<Element>* list = &found;
  std::optional<std::size_t> place = place_in(found, one);
  if (!place && asides != nullptr) {
    list = asides;
    place = place_in(*asides, one);
  }
  if (!place) unknown();
  std::size_t rank = rank_of(*list, *place);
  const Element& its = (*list)[*place];
  for (const TracedReading& reading : trace_.readings) {
    if (reading.kind != kind || reading.aside != (list == asides) || reading.span != its.span ||
        reading.id != id(its))
      continue;
    if (rank-- == 0) return reading;
  }
  unknown();
}

Explanation Explainer::of(const Aroma& one) const {
  const TracedReading& reading = traced(Written::aroma, note_.aromas, &note_.aside_aromas, one);
  return Teller(again_, work_).aroma(one, reading);
}
Explanation Explainer::of(const Reading& one) const {
  const TracedReading& reading =
      traced(Written::structure, note_.readings, &note_.aside_readings, one);
  return Teller(again_, work_).structure(one, reading);
}
Explanation Explainer::of(const Trait& one) const {
  const TracedReading& reading = traced(Written::trait, note_.traits, &note_.aside_traits, one);
  return Teller(again_, work_).trait(one, reading);
}
Explanation Explainer::of(const Sight& one) const {
  const TracedReading& reading = traced(Written::sight, note_.sight, &note_.aside_sight, one);
  return Teller(again_, work_).sight(one, reading);
}
Explanation Explainer::of(const Quantity& one) const {
  const TracedReading& reading =
      traced<Quantity>(Written::quantity, note_.quantities, nullptr, one);
  return Teller(again_, work_).quantity(one, reading);
}
Explanation Explainer::of(const Name& one) const {
  const TracedReading& reading = traced<Name>(Written::name, note_.names, nullptr, one);
  return Teller(again_, work_).name(one, reading);
}

// One fault of the record may rest on several words.
std::vector<const TracedReading*> Explainer::traced_faults(const FaultReading& one) const {
  const auto is_it = [&](const FaultReading& other) {
    return &one == &other || (one.fault == other.fault && one.spans.begin == other.spans.begin &&
                              one.spans.count == other.spans.count);
  };
  const auto& found = note_.condition.faults;
  const auto& asides = note_.aside_faults;
  const bool aside = std::none_of(found.begin(), found.end(), is_it);
  if (aside && std::none_of(asides.begin(), asides.end(), is_it)) unknown();
  std::vector<const TracedReading*> out;
  for (const TracedReading& reading : trace_.readings) {
    if (reading.kind != Written::fault || reading.aside != aside ||
        reading.id != name_of(one.fault))
      continue;
    for (std::uint32_t i = 0; i < one.spans.count; ++i)
      if (note_.parts[one.spans.begin + i] == reading.span) {
        out.push_back(&reading);
        break;
      }
  }
  if (out.empty()) unknown();
  return out;
}

Explanation Explainer::of(const FaultReading& one) const {
  const std::vector<Span> spans(note_.parts.begin() + one.spans.begin,
                                note_.parts.begin() + one.spans.begin + one.spans.count);
  return Teller(again_, work_).fault(one, spans, traced_faults(one));
}

Explanation Explainer::of_unmapped(Span span) const {
  if (std::find(note_.unmapped.begin(), note_.unmapped.end(), span) == note_.unmapped.end())
    unknown();
  return Teller(again_, work_).unmapped(span);
}

}  // namespace racking::explain
