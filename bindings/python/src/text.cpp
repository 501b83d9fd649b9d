#include "text.hpp"

#include "errors.hpp"

namespace racking_python {
namespace {

void append_utf8(std::string& out, Py_UCS4 c) {
  const auto byte = [&out](Py_UCS4 value) {
    out += static_cast<char>(static_cast<unsigned char>(value));
  };
  if (c < 0x80) return byte(c);
  if (c < 0x800) {
    byte(0xC0 | (c >> 6));
  } else if (c < 0x10000) {
    byte(0xE0 | (c >> 12));
    byte(0x80 | ((c >> 6) & 0x3F));
  } else {
    byte(0xF0 | (c >> 18));
    byte(0x80 | ((c >> 12) & 0x3F));
    byte(0x80 | ((c >> 6) & 0x3F));
  }
  byte(0x80 | (c & 0x3F));
}

void require_string(py::handle text, const char* what, std::optional<std::size_t> row) {
  if (PyUnicode_Check(text.ptr())) {
    if (PyUnicode_READY(text.ptr()) != 0) throw py::error_already_set();
    return;
  }
  std::string message = std::string(what) + " must be str, not " + Py_TYPE(text.ptr())->tp_name;
  if (PyBytes_Check(text.ptr())) message += "; decode it first, as in text.decode(\"utf-8\")";
  raise_wrong_type(message, row);
}

}  // namespace

std::optional<std::string_view> ascii_view(py::handle text) noexcept {
  if (!PyUnicode_Check(text.ptr()) || !PyUnicode_IS_COMPACT_ASCII(text.ptr())) return std::nullopt;
  return std::string_view(reinterpret_cast<const char*>(PyUnicode_1BYTE_DATA(text.ptr())),
                          static_cast<std::size_t>(PyUnicode_GET_LENGTH(text.ptr())));
}

std::string utf8_of(py::handle text, const char* what, std::optional<std::size_t> row) {
  if (const auto view = ascii_view(text)) return std::string(*view);
  require_string(text, what, row);
  const int kind = PyUnicode_KIND(text.ptr());
  const void* data = PyUnicode_DATA(text.ptr());
  const Py_ssize_t size = PyUnicode_GET_LENGTH(text.ptr());
  std::string out;
  out.reserve(static_cast<std::size_t>(size) + static_cast<std::size_t>(size) / 8 + 16);
  for (Py_ssize_t at = 0; at < size; ++at) {
    const Py_UCS4 c = PyUnicode_READ(kind, data, at);
    if (Py_UNICODE_IS_SURROGATE(c)) raise_ill_formed(c, static_cast<std::size_t>(at), what, row);
    append_utf8(out, c);
  }
  return out;
}

py::object plain_string(py::handle text) {
  if (PyUnicode_CheckExact(text.ptr()) || !PyUnicode_Check(text.ptr()))
    return py::reinterpret_borrow<py::object>(text);
  PyObject* plain = PyUnicode_FromObject(text.ptr());
  if (plain == nullptr) throw py::error_already_set();
  return py::reinterpret_steal<py::object>(plain);
}

std::string path_of(py::handle path, const char* what) {
  PyObject* encoded = nullptr;
  if (PyUnicode_FSConverter(path.ptr(), &encoded) == 0) {
    const bool wrong_type = PyErr_ExceptionMatches(PyExc_TypeError) != 0;
    py::error_already_set error;  // takes Python's own message
    const std::string message =
        std::string(what) + ": " + py::str(error.value()).cast<std::string>();
    if (wrong_type) raise_wrong_type(message, std::nullopt);
    raise_bad_argument(message);
  }
  const auto bytes = py::reinterpret_steal<py::bytes>(encoded);
  return std::string(bytes);
}

}  // namespace racking_python
