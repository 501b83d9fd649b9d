// Python's strings as UTF-8.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "python.hpp"

namespace racking_python {

// The UTF-8 of a string, without a copy kept in the string itself. Raises WrongType for anything
// else, TextIllFormed with its position for a lone surrogate; `what` names the argument.
std::string utf8_of(py::handle text, const char* what, std::optional<std::size_t> row = {});
// The bytes of an ASCII string as they lie in it; nothing for other strings.
std::optional<std::string_view> ascii_view(py::handle text) noexcept;
// A plain `str` of the same content for a subclass (numpy.str_), itself otherwise.
py::object plain_string(py::handle text);
// A path: str or os.PathLike.
std::string path_of(py::handle path, const char* what);

inline py::str to_python(std::string_view text) {
  PyObject* made =
      PyUnicode_DecodeUTF8(text.data(), static_cast<Py_ssize_t>(text.size()), "replace");
  if (made == nullptr) throw py::error_already_set();
  return py::reinterpret_steal<py::str>(made);
}

}  // namespace racking_python
