// Reader, and the check of a lexicon's examples.
#include "errors.hpp"
#include "python.hpp"
#include "text.hpp"
#include "types.hpp"

namespace racking_python {
namespace {

constexpr std::size_t largest_limit = (std::size_t{1} << 31) - 1;
// Below this many bytes a read is over before another thread could take the GIL to any use.
constexpr std::size_t worth_releasing = 512;

std::shared_ptr<ReaderBox> make_reader(py::handle lexicon, py::handle size_limit) {
  LexiconPointer box;
  if (lexicon.is_none()) {
    box = std::make_shared<LexiconBox>(LexiconBox{racking::Lexicon::house()});
  } else if (py::isinstance<LexiconBox>(lexicon)) {
    box = lexicon.cast<LexiconPointer>();
  } else {
    raise_wrong_type(std::string("lexicon must be a Lexicon, not ") + Py_TYPE(lexicon.ptr())->tp_name);
  }
  if (!PyLong_Check(size_limit.ptr()))
    raise_wrong_type(std::string("size_limit must be int, not ") + Py_TYPE(size_limit.ptr())->tp_name);
  const std::size_t limit = PyLong_AsSize_t(size_limit.ptr());
  if (PyErr_Occurred() != nullptr || limit > largest_limit) {
    PyErr_Clear();
    raise_bad_argument("size_limit is a number of bytes from 0 to 2147483647");
  }
  const py::gil_scoped_release release;
  racking::Reader reader(box->lexicon, racking::ReaderOptions{limit});
  return std::make_shared<ReaderBox>(ReaderBox{std::move(reader), std::move(box), limit});
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
  return boxed(read_bytes(self, std::move(bytes)), self.lexicon, plain_string(text), ascii);
}

}  // namespace

void bind_reader(py::module_& module) {
  py::class_<ReaderBox, std::shared_ptr<ReaderBox>>(module, "_Reader")
      .def(py::init(&make_reader), py::arg("lexicon") = py::none(), py::arg("size_limit") = 16 << 20)
      .def_property_readonly("lexicon", [](const ReaderBox& self) { return self.lexicon; })
      .def_property_readonly("size_limit", [](const ReaderBox& self) { return self.size_limit; })
      .def("read", &read, py::arg("text"));
  module.def(
      "check_examples",
      [](py::handle folder, py::handle reader) {
        const std::string path = path_of(folder, "folder");
        if (!py::isinstance<ReaderBox>(reader))
          raise_wrong_type(std::string("reader must be a Reader, not ") + Py_TYPE(reader.ptr())->tp_name);
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
