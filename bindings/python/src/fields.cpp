#include "fields.hpp"

#include "text.hpp"
#include "types.hpp"

namespace racking_python {
namespace {

using racking::Interval;
using racking::Slice;
using racking::Span;

class Maker {
 public:
  explicit Maker(NoteBox& box)
      : box_(box), note_(box.note), offsets_(box.offsets()), types_(types()) {}

  py::object make(NoteBox::Field field) {
    using Field = NoteBox::Field;
    switch (field) {
      case Field::wine:
        return wine();
      case Field::statements:
        return all(note_.statements(), &Maker::statement);
      case Field::aromas:
        return all(note_.aromas(), &Maker::aroma);
      case Field::aside_aromas:
        return all(note_.aside_aromas(), &Maker::aroma);
      case Field::readings:
        return all(note_.readings(), &Maker::reading);
      case Field::aside_readings:
        return all(note_.aside_readings(), &Maker::reading);
      case Field::structure:
        return structure();
      case Field::traits:
        return all(note_.traits(), &Maker::trait);
      case Field::aside_traits:
        return all(note_.aside_traits(), &Maker::trait);
      case Field::sight:
        return all(note_.sight(), &Maker::sight);
      case Field::aside_sight:
        return all(note_.aside_sight(), &Maker::sight);
      case Field::quantities:
        return all(note_.quantities(), &Maker::quantity);
      case Field::condition:
        return condition();
      case Field::aside_faults:
        return all(note_.aside_faults(), &Maker::fault);
      case Field::maturity:
        return maturity();
      case Field::names:
        return all(note_.names(), &Maker::name);
      case Field::remarks:
        return all(note_.remarks(), &Maker::remark);
      case Field::unmapped:
        return all(note_.unmapped(), &Maker::unmapped);
      case Field::problems:
        return all(note_.problems(), &Maker::problem);
    }
    return py::none();
  }

 private:
  template <class Elements, class Element>
  py::object all(const Elements& elements, py::object (Maker::*one)(const Element&)) {
    py::tuple out(elements.size());
    std::size_t at = 0;
    for (const auto& element : elements) out[at++] = (this->*one)(element);
    return out;
  }

  // ---- small members ----

  py::object bytes(Span at) { return made(types_.span, at.begin, at.end); }
  py::object span(Span at) { return bytes(offsets_(at)); }
  py::object words(Span at) {
    const Span in = offsets_(at);
    PyObject* words = PyUnicode_Substring(box_.text.ptr(), in.begin, in.end);
    if (words == nullptr) throw py::error_already_set();
    return py::reinterpret_steal<py::object>(words);
  }
  py::object interval(std::optional<Interval> range) {
    return range ? made(types_.interval, range->low, range->high) : py::object(py::none());
  }
  py::object text_or_none(std::string_view text) {
    return text.empty() ? py::object(py::none()) : py::object(to_python(text));
  }
  template <class Value>
  py::object member_or_none(const py::tuple& members, const std::optional<Value>& value) {
    return value ? member(members, *value) : py::object(py::none());
  }
  py::object number(std::optional<double> value) {
    return value ? py::object(py::float_(*value)) : py::object(py::none());
  }

  template <class Elements>
  py::object spans(const Elements& elements) {
    py::tuple out(elements.size());
    for (std::size_t at = 0; at < elements.size(); ++at) out[at] = span(elements[at]);
    return out;
  }
  template <class Elements>
  py::object spans_bytes(const Elements& elements) {
    py::tuple out(elements.size());
    for (std::size_t at = 0; at < elements.size(); ++at) out[at] = bytes(elements[at]);
    return out;
  }

  py::object cues(Slice slice) { return all(note_.cues(slice), &Maker::cue); }
  py::object cue(const racking::Cue& one) {
    return made(types_.cue, to_python(one.rule), words(one.span), span(one.span), bytes(one.span));
  }

  py::object states(racking::State set) {
    py::list out;
    for (std::size_t bit = 0; bit < racking::state_count; ++bit)
      if (has(set, static_cast<racking::State>(1U << bit))) out.append(types_.states[bit]);
    return py::tuple(out);
  }

  // ---- readings ----

  py::object statement(const racking::Statement& one) {
    return made(types_.statement, member(types_.frames, one.frame),
                member(types_.phases, one.phase), words(one.span), span(one.span), bytes(one.span));
  }

  py::object aroma(const racking::Aroma& one) {
    const auto parts = note_.parts(one.parts);
    return made(types_.aroma, descriptor_object(box_.lexicon, one.descriptor), words(one.span),
                span(one.span), bytes(one.span), spans(parts), spans_bytes(parts),
                interval(one.strength), states(one.state), member(types_.phases, one.phase),
                member(types_.stances, one.stance), member(types_.whens, one.when),
                member(types_.frames, one.frame), py::bool_(one.respelled), cues(one.cues));
  }

  py::object reading(const racking::Reading& one) {
    return made(types_.reading, member(types_.dimensions, one.dimension), interval(one.range),
                words(one.span), span(one.span), bytes(one.span), member(types_.phases, one.phase),
                member(types_.stances, one.stance), member(types_.whens, one.when),
                member(types_.frames, one.frame), cues(one.cues));
  }

  py::object level(racking::Dimension dimension) {
    const racking::Level& one = note_.structure()[dimension];
    const auto readings = py::reinterpret_borrow<py::tuple>(field(box_, NoteBox::Field::readings));
    py::tuple of(one.readings.size());
    for (std::size_t at = 0; at < one.readings.size(); ++at) of[at] = readings[one.readings[at]];
    py::tuple traits(one.traits.size());
    for (std::size_t at = 0; at < one.traits.size(); ++at) traits[at] = to_python(one.traits[at]);
    return made(types_.level, interval(one.range),
                one.range ? py::object(to_python(racking::Note::label(dimension, *one.range)))
                          : py::object(py::none()),
                py::bool_(one.conflict), traits, of);
  }

  py::object structure() {
    py::tuple levels(racking::dimension_count);
    for (std::size_t at = 0; at < levels.size(); ++at)
      levels[at] = level(static_cast<racking::Dimension>(at));
    const py::tuple arguments = py::make_tuple(levels);
    PyObject* made_structure = PyTuple_Type.tp_new(
        reinterpret_cast<PyTypeObject*>(types_.structure.ptr()), arguments.ptr(), nullptr);
    if (made_structure == nullptr) throw py::error_already_set();
    return py::reinterpret_steal<py::object>(made_structure);
  }

  py::object trait(const racking::Trait& one) {
    return made(types_.trait, to_python(one.id), words(one.span), span(one.span), bytes(one.span),
                member_or_none(types_.dimensions, one.dimension), member(types_.phases, one.phase),
                member(types_.stances, one.stance), member(types_.whens, one.when),
                member(types_.frames, one.frame), cues(one.cues));
  }

  py::object sight(const racking::Sight& one) {
    return made(types_.sight, member(types_.sight_parts, one.part),
                member_or_none(types_.hues, one.hue), interval(one.range), text_or_none(one.value),
                words(one.span), span(one.span), bytes(one.span),
                member(types_.stances, one.stance), member(types_.whens, one.when),
                member(types_.frames, one.frame), cues(one.cues));
  }

  py::object quantity(const racking::Quantity& one) {
    return made(types_.quantity, member(types_.quantity_kinds, one.kind), number(one.value),
                number(one.low), number(one.high), number(one.out_of), text_or_none(one.unit),
                text_or_none(one.of), member(types_.frames, one.frame), words(one.span),
                span(one.span), bytes(one.span));
  }

  // ---- condition, maturity, the rest ----

  py::object fault(const racking::FaultReading& one) {
    const auto at = note_.parts(one.spans);
    return made(types_.fault_reading, member(types_.faults, one.fault), all(at, &Maker::words_of),
                spans(at), spans_bytes(at), member(types_.stances, one.stance),
                member(types_.whens, one.when), member(types_.frames, one.frame),
                text_or_none(one.caution), cues(one.cues));
  }
  py::object words_of(const Span& at) { return words(at); }

  py::object condition() {
    const racking::Condition& one = note_.condition();
    return made(types_.condition, member(types_.verdicts, one.verdict),
                all(one.faults, &Maker::fault));
  }

  py::object evidence(const racking::Evidence& one) {
    return made(types_.evidence, member(types_.points_to, one.points_to), to_python(one.because),
                words(one.span), span(one.span), bytes(one.span));
  }

  py::object maturity() {
    const racking::Maturity& one = note_.maturity();
    py::object stage = py::none();
    if (one.stage)
      stage = py::make_tuple(member(types_.stages, one.stage->first),
                             member(types_.stages, one.stage->second));
    return made(types_.maturity, stage, all(one.evidence, &Maker::evidence));
  }

  py::object name(const racking::Name& one) {
    return made(types_.name, member(types_.name_kinds, one.kind), to_python(one.name),
                words(one.span), span(one.span), bytes(one.span));
  }

  py::object remark(const racking::Remark& one) {
    return made(types_.remark, to_python(one.text), spans(one.spans), spans_bytes(one.spans),
                to_python(one.id));
  }

  py::object unmapped(const Span& at) {
    return made(types_.unmapped, words(at), span(at), bytes(at));
  }

  py::object problem(const racking::TextProblem& one) {
    return made(types_.text_problem, to_python(one.code), to_python(one.message), span(one.span),
                bytes(one.span));
  }

  py::object wine() {
    const racking::Wine& one = note_.wine();
    return made(types_.wine, member_or_none(types_.wine_colours, one.colour),
                py::bool_(one.colour_inferred), member_or_none(types_.wine_styles, one.style),
                py::bool_(one.style_inferred));
  }

  NoteBox& box_;
  const racking::Note& note_;
  const CodePoints& offsets_;
  const Types& types_;
};

}  // namespace

py::object field(NoteBox& box, NoteBox::Field which) {
  if (!box.fields) box.fields = std::make_unique<std::array<py::object, NoteBox::field_count>>();
  py::object& slot = (*box.fields).at(static_cast<std::size_t>(which));
  if (!slot) {
    py::object fresh = Maker(box).make(which);
    if (!slot) slot = std::move(fresh);  // another thread may have been quicker
  }
  return slot;
}

}  // namespace racking_python
