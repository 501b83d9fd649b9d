#include "errors.hpp"

#include "text.hpp"
#include "types.hpp"

namespace racking_python {
namespace {

const char* class_of(racking::ErrorCode code) {
  switch (code) {
    case racking::ErrorCode::lexicon_invalid:
      return "LexiconInvalid";
    case racking::ErrorCode::lexicon_unreadable:
      return "LexiconUnreadable";
    case racking::ErrorCode::lexicon_corrupt:
      return "LexiconCorrupt";
    case racking::ErrorCode::text_too_large:
      return "TextTooLarge";
    case racking::ErrorCode::bad_argument:
      break;
  }
  return "BadArgument";
}

py::object optional_number(std::optional<std::size_t> value) {
  return value ? py::object(py::int_(*value)) : py::object(py::none());
}

void set_error(const char* name, const std::string& message, const py::dict& more) {
  const py::object type = py::module_::import("racking.errors").attr(name);
  const py::object error = type(to_python(message), **more);
  PyErr_SetObject(type.ptr(), error.ptr());
}

[[noreturn]] void raise(const char* name, const std::string& message, const py::dict& more) {
  set_error(name, message, more);
  throw py::error_already_set();
}

std::string with_row(std::string message, std::optional<std::size_t> row) {
  return row ? "row " + std::to_string(*row) + ": " + message : message;
}

void set_error(const racking::Error& error) {
  py::list problems;
  for (const auto& problem : error.problems()) problems.append(problem_object(problem));
  py::dict more;
  more["source"] = to_python(error.source());
  more["line"] = error.line();
  more["column"] = error.column();
  more["problems"] = py::tuple(problems);
  set_error(class_of(error.code()), error.message(), more);
}

}  // namespace

py::object problem_object(const racking::Problem& problem) {
  return made(types().problem, to_python(problem.source), py::int_(problem.line),
              py::int_(problem.column), to_python(problem.message), to_python(problem.mend));
}

void raise_wrong_type(const std::string& message, std::optional<std::size_t> row) {
  py::dict more;
  more["row"] = optional_number(row);
  raise("WrongType", with_row(message, row), more);
}

void raise_bad_argument(const std::string& message) { raise("BadArgument", message, py::dict()); }

void raise_ill_formed(Py_UCS4 surrogate, std::size_t position, const char* what,
                      std::optional<std::size_t> row) {
  constexpr char digits[] = "0123456789ABCDEF";
  std::string name = "U+";
  for (int shift = 12; shift >= 0; shift -= 4) name += digits[(surrogate >> shift) & 0xF];
  py::dict more;
  more["position"] = position;
  more["row"] = optional_number(row);
  raise("TextIllFormed",
        with_row(std::string(what) + " has the lone surrogate " + name + " at position " +
                     std::to_string(position) +
                     "; no text in UTF-8 can hold it: decode the source again",
                 row),
        more);
}

void raise_too_large(const racking::Error& error, std::string_view text, std::size_t limit,
                     std::optional<std::size_t> row) {
  std::size_t position = 0;
  for (const char c : text.substr(0, limit)) position += (c & 0xC0) == 0x80 ? 0 : 1;
  py::dict more;
  more["position"] = position;
  more["row"] = optional_number(row);
  raise(class_of(error.code()), with_row(error.message(), row), more);
}

void bind_errors(py::module_&) {
  py::register_exception_translator([](std::exception_ptr pointer) {
    try {
      if (pointer) std::rethrow_exception(pointer);
    } catch (const racking::Error& error) {
      set_error(error);
    }
  });
}

}  // namespace racking_python
