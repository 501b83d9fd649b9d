// Note.
#include <pybind11/stl.h>

#include "errors.hpp"
#include "fields.hpp"
#include "python.hpp"
#include "text.hpp"
#include "types.hpp"

namespace racking_python {
namespace {

using Field = NoteBox::Field;

template <Field which>
py::object get(NoteBox& self) {
  return field(self, which);
}

racking::JsonOptions json_options(py::handle depth, py::handle offsets, bool tidy, bool explain) {
  racking::JsonOptions options;
  options.depth = enum_of<racking::JsonOptions::Depth>(depth, "depth");
  options.offsets = enum_of<racking::Offsets>(offsets, "offsets");
  options.tidy = tidy;
  options.explain = explain;
  return options;
}

py::str to_json(const NoteBox& self, py::handle depth, py::handle offsets, py::handle id,
                bool tidy, bool explain) {
  racking::JsonOptions options = json_options(depth, offsets, tidy, explain);
  const std::string name = id.is_none() ? std::string() : utf8_of(id, "id");
  options.id = name;
  std::string record;
  {
    const py::gil_scoped_release release;
    record = self.note.to_json(options);
  }
  return to_python(record);
}

bool same(const NoteBox& a, const NoteBox& b) {
  return a.note.text() == b.note.text() && a.tasting_year == b.tasting_year &&
         a.note.lexicon().digest() == b.note.lexicon().digest();
}

}  // namespace

std::unique_ptr<NoteBox> boxed(racking::Note note, LexiconPointer lexicon, py::object text,
                               bool ascii) {
  auto box = std::make_unique<NoteBox>();
  box->note = std::move(note);
  box->lexicon = std::move(lexicon);
  box->text = std::move(text);
  box->ascii = ascii;
  return box;
}

void bind_note(py::module_& module) {
  py::class_<NoteBox>(module, "Note")
      .def(py::init([] {
        racking::Note note;
        auto lexicon = std::make_shared<LexiconBox>(LexiconBox{note.lexicon()});
        return boxed(std::move(note), std::move(lexicon), py::str(""), true);
      }))
      .def_property_readonly("text", [](const NoteBox& self) { return self.text; })
      .def_property_readonly("language",
                             [](const NoteBox& self) { return to_python(self.note.language()); })
      .def_property_readonly("lexicon", [](const NoteBox& self) { return self.lexicon; })
      .def_property_readonly("coverage", [](const NoteBox& self) { return self.note.coverage(); })
      .def_property_readonly("wine", get<Field::wine>)
      .def_property_readonly("statements", get<Field::statements>)
      .def_property_readonly("aromas", get<Field::aromas>)
      .def_property_readonly("aside_aromas", get<Field::aside_aromas>)
      .def_property_readonly("readings", get<Field::readings>)
      .def_property_readonly("aside_readings", get<Field::aside_readings>)
      .def_property_readonly("structure", get<Field::structure>)
      .def_property_readonly("traits", get<Field::traits>)
      .def_property_readonly("aside_traits", get<Field::aside_traits>)
      .def_property_readonly("sight", get<Field::sight>)
      .def_property_readonly("aside_sight", get<Field::aside_sight>)
      .def_property_readonly("quantities", get<Field::quantities>)
      .def_property_readonly("condition", get<Field::condition>)
      .def_property_readonly("aside_faults", get<Field::aside_faults>)
      .def_property_readonly("maturity", get<Field::maturity>)
      .def_property_readonly("names", get<Field::names>)
      .def_property_readonly("remarks", get<Field::remarks>)
      .def_property_readonly("unmapped", get<Field::unmapped>)
      .def_property_readonly("problems", get<Field::problems>)
      .def_static(
          "label",
          [](py::handle dimension, py::handle range) {
            const auto of = enum_of<racking::Dimension>(dimension, "dimension");
            const auto pair = py::reinterpret_borrow<py::object>(range);
            if (!PyTuple_Check(pair.ptr()) || PyTuple_GET_SIZE(pair.ptr()) != 2)
              raise_wrong_type("range must be an Interval, or a tuple of two steps");
            const auto step = [&](Py_ssize_t at) {
              const long value = PyLong_AsLong(PyTuple_GET_ITEM(pair.ptr(), at));
              if (value == -1 && PyErr_Occurred() != nullptr) {
                PyErr_Clear();
                raise_wrong_type("a step must be an int");
              }
              return value;
            };
            const long low = step(0);
            const long high = step(1);
            if (low < 1 || high > 5 || low > high)
              raise_bad_argument("steps are 1 to 5, the lower first");
            return to_python(racking::Note::label(
                of, {static_cast<std::uint8_t>(low), static_cast<std::uint8_t>(high)}));
          },
          py::arg("dimension"), py::arg("range"))
      .def("to_json", to_json, py::arg("depth") = "full", py::arg("offsets") = "codepoint",
           py::arg("id") = py::none(), py::arg("tidy") = true, py::arg("explain") = false)
      .def("explain", explain, py::arg("reading"))
      .def("tidy",
           [](const NoteBox& self) {
             std::string text;
             {
               const py::gil_scoped_release release;
               text = self.note.tidy();
             }
             return to_python(text);
           })
      .def("__eq__",
           [](const NoteBox& self, py::handle other) -> py::object {
             if (!py::isinstance<NoteBox>(other))
               return py::reinterpret_borrow<py::object>(Py_NotImplemented);
             return py::bool_(same(self, other.cast<const NoteBox&>()));
           })
      .def("__hash__",
           [](const NoteBox& self) {
             return py::hash(py::make_tuple(self.text, to_python(self.note.lexicon().digest())));
           })
      .def("__repr__",
           [](py::object self) {
             return py::module_::import("racking.words").attr("note_repr")(self);
           })
      .def("_repr_html_",
           [](py::object self) {
             return py::module_::import("racking.notebook").attr("note_html")(self);
           })
      .def("__copy__", [](py::object self) { return self; })
      .def(
          "__deepcopy__", [](py::object self, py::handle) { return self; }, py::arg("memo"))
      .def_property_readonly("_tasting_year",
                             [](const NoteBox& self) -> std::optional<int> {
                               if (self.tasting_year == 0) return std::nullopt;
                               return self.tasting_year;
                             })
      .def("__reduce__", [](py::object self) {
        return py::module_::import("racking._pickles").attr("reduce_note")(self);
      });
}

}  // namespace racking_python
