// Note.explain: the reading that is meant, and why it was read so.
#include <optional>
#include <span>

#include "errors.hpp"
#include "fields.hpp"
#include "python.hpp"
#include "text.hpp"
#include "types.hpp"

namespace racking_python {
namespace {

using Field = NoteBox::Field;

// The place of a reading in one of the note's tuples: the very object, or one that is equal.
std::optional<std::size_t> place_in(const py::tuple& all, py::handle reading) {
  for (std::size_t at = 0; at < all.size(); ++at)
    if (py::object(all[at]).ptr() == reading.ptr()) return at;
  const auto one = py::reinterpret_borrow<py::object>(reading);
  for (std::size_t at = 0; at < all.size(); ++at)
    if (py::object(all[at]).equal(one)) return at;
  return std::nullopt;
}

template <class Element>
std::optional<racking::Explanation> explained(const racking::Note& note, const py::tuple& all,
                                              std::span<const Element> elements,
                                              py::handle reading) {
  const auto place = place_in(all, reading);
  if (!place) return std::nullopt;
  const py::gil_scoped_release release;
  return note.explain(elements[*place]);
}

template <class Element>
std::optional<racking::Explanation> explained(NoteBox& box, Field field_of, Field aside,
                                              std::span<const Element> elements,
                                              std::span<const Element> asides,
                                              py::handle reading) {
  if (auto found = explained(box.note, py::tuple(field(box, field_of)), elements, reading))
    return found;
  return explained(box.note, py::tuple(field(box, aside)), asides, reading);
}

std::optional<racking::Explanation> explained_fault(NoteBox& box, py::handle reading) {
  using Faults = std::span<const racking::FaultReading>;
  const py::tuple faults(py::object(field(box, Field::condition).attr("faults")));
  if (auto found = explained(box.note, faults, Faults(box.note.condition().faults), reading))
    return found;
  return explained(box.note, py::tuple(field(box, Field::aside_faults)), box.note.aside_faults(),
                   reading);
}

std::optional<racking::Explanation> explained_unmapped(NoteBox& box, py::handle reading) {
  const auto place = place_in(py::tuple(field(box, Field::unmapped)), reading);
  if (!place) return std::nullopt;
  return box.note.explain_unmapped(box.note.unmapped()[*place]);
}

std::optional<racking::Explanation> find(NoteBox& box, py::handle reading) {
  const Types& all = types();
  const racking::Note& note = box.note;
  const auto is = [&](const py::object& type) { return py::isinstance(reading, type); };
  if (is(all.aroma))
    return explained(box, Field::aromas, Field::aside_aromas, note.aromas(), note.aside_aromas(),
                     reading);
  if (is(all.reading))
    return explained(box, Field::readings, Field::aside_readings, note.readings(),
                     note.aside_readings(), reading);
  if (is(all.trait))
    return explained(box, Field::traits, Field::aside_traits, note.traits(), note.aside_traits(),
                     reading);
  if (is(all.sight))
    return explained(box, Field::sight, Field::aside_sight, note.sight(), note.aside_sight(),
                     reading);
  if (is(all.quantity))
    return explained(note, py::tuple(field(box, Field::quantities)), note.quantities(), reading);
  if (is(all.name))
    return explained(note, py::tuple(field(box, Field::names)), note.names(), reading);
  if (is(all.fault_reading)) return explained_fault(box, reading);
  if (is(all.unmapped)) return explained_unmapped(box, reading);
  raise_wrong_type(
      "explain wants an Aroma, Reading, Trait, Sight, Quantity, FaultReading, Name or Unmapped");
}

py::object words(const NoteBox& box, racking::Span in) {
  PyObject* words = PyUnicode_Substring(box.text.ptr(), in.begin, in.end);
  if (words == nullptr) throw py::error_already_set();
  return py::reinterpret_steal<py::object>(words);
}

}  // namespace

py::object explain(NoteBox& box, py::handle reading) {
  const auto why = find(box, reading);
  if (!why) raise_bad_argument("there is no such reading in this note");
  py::tuple reasons(why->reasons.size());
  for (std::size_t at = 0; at < reasons.size(); ++at) {
    const racking::Reason& one = why->reasons[at];
    const racking::Span in = box.offsets()(one.span);
    reasons[at] = made(types().reason, to_python(one.what),
                       one.rule.empty() ? py::object(py::none()) : py::object(to_python(one.rule)),
                       to_python(one.because), words(box, in),
                       made(types().span, in.begin, in.end),
                       made(types().span, one.span.begin, one.span.end));
  }
  return made(types().explanation, to_python(why->text), reasons);
}

}  // namespace racking_python
