// Batch: the texts of many notes and what they say as columns. `racking.Notes` wraps it.
#include <cmath>

#include "columns.hpp"
#include "errors.hpp"
#include "parallel.hpp"
#include "python.hpp"
#include "text.hpp"
#include "types.hpp"

namespace racking_python {
namespace {

struct Batch {
  std::shared_ptr<ReaderBox> reader;
  py::list texts;  // plain strings, and None where missing
  std::shared_ptr<Columns> columns = std::make_shared<Columns>();
};

// One column as a read-only buffer.
struct ColumnView {
  std::shared_ptr<const Columns> owner;
  const void* data;
  py::ssize_t count, item_size;
  std::string format;
};

// A text where C++ can read it without the GIL.
struct Piece {
  std::string_view text;
  bool ascii = true;
  bool missing = false;
};

// The pieces of a list of strings and None; holds what is not ASCII as UTF-8.
class Pieces {
 public:
  Pieces(const py::list& texts, std::size_t begin, std::size_t end, std::size_t first_row) {
    pieces_.reserve(end - begin);
    for (std::size_t at = begin; at < end; ++at) add(texts[at], first_row + (at - begin));
  }
  const std::vector<Piece>& all() const noexcept { return pieces_; }

 private:
  void add(py::handle text, std::size_t row) {
    if (text.is_none()) return pieces_.push_back({{}, true, true});
    if (const auto view = ascii_view(text)) return pieces_.push_back({*view, true, false});
    encoded_.push_back(std::make_unique<std::string>(utf8_of(text, "text", row)));
    pieces_.push_back({*encoded_.back(), false, false});
  }

  std::vector<Piece> pieces_;
  std::vector<std::unique_ptr<std::string>> encoded_;
};

bool is_named(py::handle value, std::string_view name) {
  std::string_view type = Py_TYPE(value.ptr())->tp_name;
  return type.substr(type.rfind('.') + 1) == name;
}

// None, NaN of any kind, pandas.NA, pandas.NaT, numpy.ma.masked.
bool is_missing(py::handle value) {
  if (value.is_none()) return true;
  if (PyUnicode_Check(value.ptr()) || PyBytes_Check(value.ptr())) return false;
  if (PyFloat_Check(value.ptr())) return std::isnan(PyFloat_AS_DOUBLE(value.ptr()));
  if (is_named(value, "NAType") || is_named(value, "NaTType") || is_named(value, "MaskedConstant"))
    return true;
  // A NaN of numpy's is no float, yet differs from itself.
  PyObject* compared = PyObject_RichCompare(value.ptr(), value.ptr(), Py_NE);
  const bool differs = compared != nullptr && PyObject_IsTrue(compared) == 1;
  Py_XDECREF(compared);
  PyErr_Clear();
  return differs;
}

void check_size(const ReaderBox& reader, const Piece& piece, std::size_t row) {
  if (piece.text.size() <= reader.size_limit) return;
  try {
    reader.reader.read(std::string(piece.text));
  } catch (const racking::Error& error) {
    raise_too_large(error, piece.text, reader.size_limit, row);
  }
}

// Reads a list of texts into the columns. The GIL is given up once.
void extend(Batch& self, const py::list& raw, unsigned jobs) {
  const std::size_t first_row = self.columns->size();
  py::list texts;
  for (const auto& text : raw) {
    if (is_missing(text))
      texts.append(py::none());
    else
      texts.append(plain_string(text));
  }
  const Pieces pieces(texts, 0, texts.size(), first_row);
  for (std::size_t at = 0; at < pieces.all().size(); ++at)
    check_size(*self.reader, pieces.all()[at], first_row + at);
  {
    const py::gil_scoped_release release;
    std::vector<Columns> blocks(block_count(pieces.all().size()));
    in_blocks(pieces.all().size(), jobs,
              [&](std::size_t block, std::size_t begin, std::size_t end) {
                Columns& columns = blocks[block];
                columns.reserve(end - begin);
                for (std::size_t at = begin; at < end; ++at) {
                  const Piece& piece = pieces.all()[at];
                  if (piece.missing)
                    columns.add_missing();
                  else
                    columns.add(self.reader->reader.read(std::string(piece.text)), piece.ascii);
                }
              });
    for (const Columns& block : blocks) self.columns->append(block);
  }
  for (const auto& text : texts) self.texts.append(text);
  if (PyErr_CheckSignals() != 0) throw py::error_already_set();
}

ColumnView column(const Batch& self, const std::string& wanted) {
  std::optional<ColumnView> found;
  each_column(*self.columns, [&](const std::string& name, auto& column) {
    using Value = typename std::remove_cvref_t<decltype(column)>::value_type;
    if (name != wanted) return;
    static const Value nothing{};
    found = ColumnView{self.columns, column.empty() ? &nothing : column.data(),
                       static_cast<py::ssize_t>(column.size()), sizeof(Value),
                       py::format_descriptor<Value>::format()};
  });
  if (!found) raise_bad_argument("no column " + wanted);
  return *found;
}

py::tuple strings(const Batch& self) {
  const auto& all = self.columns->strings.strings();
  py::tuple out(all.size());
  for (std::size_t at = 0; at < all.size(); ++at) out[at] = to_python(all[at]);
  return out;
}

// The words of every aroma. Equal words are one object.
py::list aroma_words(const Batch& self) {
  const AromaColumns& aromas = self.columns->aromas;
  py::list out(aromas.note.size());
  py::dict known;
  for (std::size_t at = 0; at < aromas.note.size(); ++at) {
    const py::handle text =
        PyList_GET_ITEM(self.texts.ptr(), static_cast<Py_ssize_t>(aromas.note[at]));
    PyObject* words = PyUnicode_Substring(text.ptr(), aromas.begin[at], aromas.end[at]);
    if (words == nullptr) throw py::error_already_set();
    const auto owned = py::reinterpret_steal<py::object>(words);
    PyObject* shared = PyDict_SetDefault(known.ptr(), words, words);
    if (shared == nullptr) throw py::error_already_set();
    out[at] = py::reinterpret_borrow<py::object>(shared);
  }
  return out;
}

std::vector<std::size_t> row_numbers(const Batch& self, const py::sequence& rows) {
  std::vector<std::size_t> out;
  out.reserve(rows.size());
  for (const auto& row : rows) {
    const auto number = row.cast<std::size_t>();
    if (number >= self.columns->size()) raise_bad_argument("no row " + std::to_string(number));
    out.push_back(number);
  }
  return out;
}

Batch take(const Batch& self, const py::sequence& rows) {
  const auto numbers = row_numbers(self, rows);
  Batch out{self.reader, py::list(), std::make_shared<Columns>(self.columns->take(numbers))};
  for (const std::size_t row : numbers) out.texts.append(self.texts[row]);
  return out;
}

// The records of a range of notes, a line each; a missing note gives no line.
py::bytes json_lines(const Batch& self, std::size_t begin, std::size_t end, py::handle ids,
                     py::handle depth, py::handle offsets, bool tidy, unsigned jobs) {
  racking::JsonOptions options;
  options.depth = enum_of<racking::JsonOptions::Depth>(depth, "depth");
  options.offsets = enum_of<racking::Offsets>(offsets, "offsets");
  options.tidy = tidy;
  end = std::min<std::size_t>(end, self.texts.size());
  begin = std::min(begin, end);
  const Pieces pieces(self.texts, begin, end, begin);
  std::vector<std::string> names(end - begin);
  if (!ids.is_none()) {
    std::size_t at = 0;
    for (const auto& id : py::reinterpret_borrow<py::list>(ids)) {
      if (at < names.size()) names[at] = utf8_of(id, "id", begin + at);
      ++at;
    }
    if (at != names.size()) raise_bad_argument("as many ids as notes are needed");
  }
  std::string all;
  {
    const py::gil_scoped_release release;
    std::vector<std::string> blocks(block_count(pieces.all().size()));
    in_blocks(pieces.all().size(), jobs, [&](std::size_t block, std::size_t from, std::size_t to) {
      for (std::size_t at = from; at < to; ++at) {
        const Piece& piece = pieces.all()[at];
        if (piece.missing) continue;
        racking::JsonOptions with_id = options;
        with_id.id = names[at];
        self.reader->reader.read(std::string(piece.text)).append_json(blocks[block], with_id);
        blocks[block] += '\n';
      }
    });
    for (const auto& block : blocks) all += block;
  }
  if (PyErr_CheckSignals() != 0) throw py::error_already_set();
  return py::bytes(all);
}

// The cleaned notes of a range; None where missing.
py::list tidy_texts(const Batch& self, std::size_t begin, std::size_t end, unsigned jobs) {
  end = std::min<std::size_t>(end, self.texts.size());
  begin = std::min(begin, end);
  const Pieces pieces(self.texts, begin, end, begin);
  std::vector<std::string> tidied(end - begin);
  {
    const py::gil_scoped_release release;
    in_blocks(pieces.all().size(), jobs, [&](std::size_t, std::size_t from, std::size_t to) {
      for (std::size_t at = from; at < to; ++at) {
        const Piece& piece = pieces.all()[at];
        if (!piece.missing) tidied[at] = self.reader->reader.read(std::string(piece.text)).tidy();
      }
    });
  }
  py::list out(tidied.size());
  for (std::size_t at = 0; at < tidied.size(); ++at) {
    if (pieces.all()[at].missing)
      out[at] = py::none();
    else
      out[at] = to_python(tidied[at]);
  }
  return out;
}

}  // namespace

void bind_batch(py::module_& module) {
  py::class_<ColumnView>(module, "Column", py::buffer_protocol())
      .def_buffer([](ColumnView& self) {
        return py::buffer_info(const_cast<void*>(self.data), self.item_size, self.format, 1,
                               {self.count}, {self.item_size}, true);
      })
      .def("__len__", [](const ColumnView& self) { return self.count; });
  py::class_<Batch>(module, "Batch")
      .def(py::init([](std::shared_ptr<ReaderBox> reader) {
             return Batch{std::move(reader), py::list()};
           }),
           py::arg("reader"))
      .def("extend", &extend, py::arg("texts"), py::arg("jobs"))
      .def("finish", [](Batch& self) { self.columns->shrink(); })
      .def("column", &column, py::arg("name"))
      .def("strings", &strings)
      .def("aroma_words", &aroma_words)
      .def("take", &take, py::arg("rows"))
      .def("json_lines", &json_lines, py::arg("begin"), py::arg("end"), py::arg("ids"),
           py::arg("depth"), py::arg("offsets"), py::arg("tidy"), py::arg("jobs"))
      .def("tidy_texts", &tidy_texts, py::arg("begin"), py::arg("end"), py::arg("jobs"))
      .def_property_readonly("texts", [](const Batch& self) { return self.texts; })
      .def("__len__", [](const Batch& self) { return self.columns->size(); });
}

}  // namespace racking_python
