// Raises the exceptions of racking.errors.
#pragma once

#include <optional>
#include <string>

#include "python.hpp"

namespace racking_python {

[[noreturn]] void raise_wrong_type(const std::string& message, std::optional<std::size_t> row = {});
[[noreturn]] void raise_bad_argument(const std::string& message);
[[noreturn]] void raise_ill_formed(Py_UCS4 surrogate, std::size_t position, const char* what,
                                   std::optional<std::size_t> row);
[[noreturn]] void raise_too_large(const racking::Error&, std::string_view text, std::size_t limit,
                                  std::optional<std::size_t> row);
py::object problem_object(const racking::Problem&);

}  // namespace racking_python
