// Units, legal terms, limits, scores: racking/measures.hpp.
#include <pybind11/stl.h>

#include "errors.hpp"
#include "python.hpp"
#include "text.hpp"
#include "types.hpp"

namespace racking_python {
namespace {

using racking::Band;
using racking::Lexicon;

// Not asked often, so looked up anew.
py::object record(const char* name) { return py::module_::import("racking.measures").attr(name); }
py::object listed(const char* name, std::string_view id) {
  return py::module_::import("racking.vocabulary").attr(name)(to_python(id));
}

template <class Enum>
Enum parsed(py::handle value, const char* what) {
  const std::string id = utf8_of(value, what);
  if (const auto found = racking::parse<Enum>(id)) return *found;
  raise_bad_argument(std::string(what) + ": '" + id + "' is not in the list");
}
template <class Enum>
std::optional<Enum> parsed_or_none(py::handle value, const char* what) {
  if (value.is_none()) return std::nullopt;
  return parsed<Enum>(value, what);
}

double number_of(py::handle value, const char* what) {
  const double out = PyFloat_AsDouble(value.ptr());
  if (out == -1.0 && PyErr_Occurred() != nullptr) {
    PyErr_Clear();
    raise_wrong_type(std::string(what) + " must be a number, not " + Py_TYPE(value.ptr())->tp_name);
  }
  return out;
}

const Lexicon& lexicon_of(py::handle value) {
  if (!py::isinstance<LexiconBox>(value))
    raise_wrong_type(std::string("lexicon must be a Lexicon, not ") + Py_TYPE(value.ptr())->tp_name);
  return value.cast<const LexiconBox&>().lexicon;
}

racking::QuantityKind kind_of(py::handle value) {
  return parsed<racking::QuantityKind>(value, "kind");
}

py::object optional_number(std::optional<double> value) {
  return value ? py::object(py::float_(*value)) : py::object(py::none());
}

py::tuple strings(const std::vector<std::string_view>& all) {
  py::tuple out(all.size());
  for (std::size_t at = 0; at < all.size(); ++at) out[at] = to_python(all[at]);
  return out;
}

template <class Enum>
py::tuple members(const char* name, const std::vector<Enum>& all) {
  py::tuple out(all.size());
  for (std::size_t at = 0; at < all.size(); ++at) out[at] = listed(name, name_of(all[at]));
  return out;
}

py::object band_object(const Band& band) {
  return record("Band")(
      to_python(band.id), listed("QuantityKind", name_of(band.kind)),
      listed("BandRule", name_of(band.rule)), to_python(band.name), to_python(band.unit),
      optional_number(band.least), optional_number(band.above), optional_number(band.most),
      optional_number(band.below), optional_number(band.acid_most), optional_number(band.acid_gap),
      py::float_(band.tolerance), py::bool_(band.undosed), py::bool_(band.remarked),
      strings(band.beyond), strings(band.terms), members("WineStyle", band.styles),
      members("WineColour", band.colours), to_python(band.authority), to_python(band.source),
      to_python(band.as_of));
}

py::tuple band_objects(const std::vector<Band>& all) {
  py::tuple out(all.size());
  for (std::size_t at = 0; at < all.size(); ++at) out[at] = band_object(all[at]);
  return out;
}

racking::Sweetness sweetness_of(py::handle value) {
  if (!py::isinstance(value, record("Sweetness")))
    raise_wrong_type(std::string("sweetness must be a Sweetness, not ") +
                     Py_TYPE(value.ptr())->tp_name);
  racking::Sweetness out;
  out.sugar = number_of(value.attr("sugar"), "sugar");
  out.style = parsed<racking::WineStyle>(value.attr("style"), "style");
  const py::object acidity = value.attr("total_acidity"), added = value.attr("sugar_added");
  if (!acidity.is_none()) out.total_acidity = number_of(acidity, "total_acidity");
  if (!added.is_none()) out.sugar_added = py::cast<bool>(added);
  return out;
}

py::tuple sweetness_terms(py::handle lexicon, py::handle sweetness) {
  const auto all = racking::sweetness_terms(lexicon_of(lexicon), sweetness_of(sweetness));
  py::tuple out(all.size());
  for (std::size_t at = 0; at < all.size(); ++at)
    out[at] = record("SweetnessTerm")(band_object(all[at].band), py::bool_(all[at].provisional));
  return out;
}

py::tuple units(py::handle lexicon, py::handle kind) {
  const auto all = racking::units(lexicon_of(lexicon), kind_of(kind));
  py::tuple out(all.size());
  for (std::size_t at = 0; at < all.size(); ++at)
    out[at] = record("Unit")(listed("QuantityKind", name_of(all[at].kind)), to_python(all[at].name),
                             py::float_(all[at].factor), py::float_(all[at].offset),
                             to_python(all[at].source));
  return out;
}

double rescale_score(py::handle score, const py::iterable& mapping) {
  std::vector<racking::ScorePoint> points;
  for (const auto& point : mapping) {
    if (!py::isinstance<py::sequence>(point) || py::len(point) != 2)
      raise_wrong_type("a point of the mapping must be a pair of numbers");
    const auto pair = py::reinterpret_borrow<py::sequence>(point);
    points.push_back({number_of(py::object(pair[0]), "a point"), number_of(py::object(pair[1]), "a point")});
  }
  return racking::rescale_score(number_of(score, "score"), points);
}

}  // namespace

void bind_measures(py::module_& module) {
  module.def("units", &units, py::arg("lexicon"), py::arg("kind"));
  module.def(
      "convert",
      [](py::handle lexicon, py::handle kind, py::handle value, py::handle from, py::handle to) {
        return optional_number(racking::convert(lexicon_of(lexicon), kind_of(kind),
                                                number_of(value, "value"), utf8_of(from, "from_unit"),
                                                utf8_of(to, "to_unit")));
      },
      py::arg("lexicon"), py::arg("kind"), py::arg("value"), py::arg("from_unit"), py::arg("to_unit"));
  module.def(
      "bands",
      [](py::handle lexicon, py::handle kind) {
        return band_objects(racking::bands(lexicon_of(lexicon), kind_of(kind)));
      },
      py::arg("lexicon"), py::arg("kind"));
  module.def("sweetness_terms", &sweetness_terms, py::arg("lexicon"), py::arg("sweetness"));
  module.def(
      "check_sweetness_term",
      [](py::handle lexicon, py::handle sweetness, py::handle term) {
        return listed("TermCheck", name_of(racking::check_sweetness_term(
                                       lexicon_of(lexicon), sweetness_of(sweetness), utf8_of(term, "term"))));
      },
      py::arg("lexicon"), py::arg("sweetness"), py::arg("term"));
  module.def(
      "broken_limits",
      [](py::handle lexicon, py::handle kind, py::handle value, py::handle colour, py::handle style) {
        return band_objects(racking::broken_limits(
            lexicon_of(lexicon), kind_of(kind), number_of(value, "value"),
            parsed_or_none<racking::WineColour>(colour, "colour"),
            parsed_or_none<racking::WineStyle>(style, "style")));
      },
      py::arg("lexicon"), py::arg("kind"), py::arg("value"), py::arg("colour") = py::none(),
      py::arg("style") = py::none());
  module.def(
      "size_classes",
      [](py::handle lexicon, py::handle kind, py::handle value) {
        return band_objects(
            racking::size_classes(lexicon_of(lexicon), kind_of(kind), number_of(value, "value")));
      },
      py::arg("lexicon"), py::arg("kind"), py::arg("value"));
  module.def("rescale_score", &rescale_score, py::arg("score"), py::arg("mapping"));
  module.def(
      "colour_indices",
      [](py::handle a420, py::handle a520, py::handle a620, py::handle path_cm) {
        const auto out =
            racking::colour_indices(number_of(a420, "a420"), number_of(a520, "a520"),
                                    number_of(a620, "a620"), number_of(path_cm, "path_cm"));
        return record("ColourIndices")(py::float_(out.density), optional_number(out.shade));
      },
      py::arg("a420"), py::arg("a520"), py::arg("a620"), py::arg("path_cm") = 1.0);
}

}  // namespace racking_python
