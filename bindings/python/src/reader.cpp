// Reader, and the check of a lexicon's examples.
#include <pybind11/stl.h>

#include "errors.hpp"
#include "python.hpp"
#include "text.hpp"
#include "types.hpp"

namespace racking_python {
namespace {

constexpr long largest_limit = (1L << 31) - 1;
// Below this many bytes a read is over before another thread could take the GIL to any use.
constexpr std::size_t worth_releasing = 512;

// A whole number from `least` to `most`; `what` says so where it is not.
long whole(py::handle value, const char* name, long least, long most, const char* what) {
  if (!PyLong_Check(value.ptr()))
    raise_wrong_type(std::string(name) + " must be int, not " + Py_TYPE(value.ptr())->tp_name);
  const long number = PyLong_AsLong(value.ptr());
  if (PyErr_Occurred() != nullptr || number < least || number > most) {
    PyErr_Clear();
    raise_bad_argument(what);
  }
  return number;
}

std::shared_ptr<ReaderBox> make_reader(py::handle lexicon, py::handle size_limit,
                                       py::handle tasting_year) {
  LexiconPointer box;
  if (lexicon.is_none()) {
    box = std::make_shared<LexiconBox>(LexiconBox{racking::Lexicon::house()});
  } else if (py::isinstance<LexiconBox>(lexicon)) {
    box = lexicon.cast<LexiconPointer>();
  } else {
    raise_wrong_type(std::string("lexicon must be a Lexicon, not ") +
                     Py_TYPE(lexicon.ptr())->tp_name);
  }
  const auto limit = static_cast<std::size_t>(
      whole(size_limit, "size_limit", 0, largest_limit,
            "size_limit is a number of bytes from 0 to 2147483647"));
  const int year = tasting_year.is_none()
                       ? 0
                       : static_cast<int>(whole(tasting_year, "tasting_year", 1, 9999,
                                                "tasting_year is a year from 1 to 9999, or None"));
  const py::gil_scoped_release release;
  racking::Reader reader(box->lexicon, racking::ReaderOptions{limit, year});
  return std::make_shared<ReaderBox>(ReaderBox{std::move(reader), std::move(box), limit, year});
}

racking::Note read_bytes(const ReaderBox& self, std::string bytes) {
  if (bytes.size() < worth_releasing) return self.reader.read(std::move(bytes));
  const py::gil_scoped_release release;
  return self.reader.read(std::move(bytes));
}

std::unique_ptr<NoteBox> read(const ReaderBox& self, py::handle text) {
  std::string bytes = utf8_of(text, "text");
  const bool ascii = ascii_view(text).has_value();
  if (bytes.size() > self.size_limit) {
    try {
      self.reader.read(bytes);
    } catch (const racking::Error& error) {
      raise_too_large(error, bytes, self.size_limit, std::nullopt);
    }
  }
  auto box = boxed(read_bytes(self, std::move(bytes)), self.lexicon, plain_string(text), ascii);
  box->tasting_year = self.tasting_year;
  return box;
}

// ---- the quick way to `read` ----
//
// A short note is read in a microsecond or two, and pybind11's own way of calling a function and
// of finding the type of its result would nearly double that. So `read` is a plain method of the
// type, and the note is put into its object here.

// The box of an object whose type is known to be, or to derive from, that of the reader.
const ReaderBox& reader_in(PyObject* self) {
  auto* instance = reinterpret_cast<py::detail::instance*>(self);
  return *static_cast<const ReaderBox*>(instance->get_value_and_holder().value_ptr());
}

PyObject* note_object(std::unique_ptr<NoteBox> box) {
  static py::detail::type_info* const type =
      py::detail::get_type_info(typeid(NoteBox), /*throw_if_missing=*/true);
  PyObject* note = py::detail::make_new_instance(type->type);
  auto* instance = reinterpret_cast<py::detail::instance*>(note);
  instance->owned = true;
  instance->get_value_and_holder().value_ptr() = box.release();
  type->init_instance(instance, nullptr);
  return note;
}

// The only argument, by place or by name.
PyObject* only_argument(PyObject* const* arguments, Py_ssize_t count, PyObject* names) {
  const Py_ssize_t named = names == nullptr ? 0 : PyTuple_GET_SIZE(names);
  if (count + named != 1)
    raise_wrong_type("read takes one text, not " + std::to_string(count + named));
  if (named == 1 && PyUnicode_CompareWithASCIIString(PyTuple_GET_ITEM(names, 0), "text") != 0)
    raise_wrong_type("read has no such argument: its only one is text");
  return arguments[0];
}

PyObject* read_method(PyObject* self, PyObject* const* arguments, Py_ssize_t count,
                      PyObject* names) {
  try {
    return note_object(read(reader_in(self), only_argument(arguments, count, names)));
  } catch (py::error_already_set& error) {
    error.restore();
  } catch (const std::bad_alloc&) {
    PyErr_NoMemory();
  } catch (const std::exception& error) {
    PyErr_SetString(PyExc_RuntimeError, error.what());
  }
  return nullptr;
}

void add_read(const py::object& type) {
  static PyMethodDef definition{
      "read", reinterpret_cast<PyCFunction>(reinterpret_cast<void (*)()>(&read_method)),
      METH_FASTCALL | METH_KEYWORDS, read_doc()};
  PyObject* method = PyDescr_NewMethod(reinterpret_cast<PyTypeObject*>(type.ptr()), &definition);
  if (method == nullptr) throw py::error_already_set();
  type.attr("read") = py::reinterpret_steal<py::object>(method);
}

}  // namespace

void bind_reader(py::module_& module) {
  py::class_<ReaderBox, std::shared_ptr<ReaderBox>>(module, "_Reader")
      .def(py::init(&make_reader), py::arg("lexicon") = py::none(),
           py::arg("size_limit") = 16 << 20, py::arg("tasting_year") = py::none())
      .def_property_readonly("lexicon", [](const ReaderBox& self) { return self.lexicon; })
      .def_property_readonly("size_limit", [](const ReaderBox& self) { return self.size_limit; })
      .def_property_readonly("tasting_year", [](const ReaderBox& self) -> std::optional<int> {
        if (self.tasting_year == 0) return std::nullopt;
        return self.tasting_year;
      });
  add_read(module.attr("_Reader"));
  module.def(
      "check_examples",
      [](py::handle folder, py::handle reader) {
        const std::string path = path_of(folder, "folder");
        if (!py::isinstance<ReaderBox>(reader))
          raise_wrong_type(std::string("reader must be a Reader, not ") +
                           Py_TYPE(reader.ptr())->tp_name);
        const auto& box = reader.cast<const ReaderBox&>();
        std::vector<racking::Problem> problems;
        {
          const py::gil_scoped_release release;
          problems = racking::check_examples(path, box.reader);
        }
        py::list out;
        for (const auto& problem : problems) out.append(problem_object(problem));
        return out;
      },
      py::arg("folder"), py::arg("reader"));
}

}  // namespace racking_python
