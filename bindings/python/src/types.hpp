// The Python classes that fields of a note are made of, and the members of the closed lists.
#pragma once

#include "python.hpp"

namespace racking_python {

struct Types {
  py::object span, interval, cue, statement, aroma, reading, level, structure, trait, sight,
      quantity, fault_reading, condition, evidence, maturity, name, remark, unmapped, suggestion, text_problem,
      reason, explanation,
      wine, problem;
  // Members in the order of the C++ enumerations; `state` and `origin` by bit.
  py::tuple dimensions, phases, stances, whens, frames, states, origins, hues, faults,
      quantity_kinds, name_kinds, wine_colours, wine_styles, verdicts, stages, sight_parts,
      points_to;
};

// Looked up once; they live as long as the process. Needs the GIL.
const Types& types();

// A record (a typing.NamedTuple) of its fields, in order.
template <class... Fields>
py::object made(const py::object& type, Fields&&... fields) {
  const py::tuple all = py::make_tuple(std::forward<Fields>(fields)...);
  const py::tuple arguments = py::make_tuple(all);
  PyObject* record =
      PyTuple_Type.tp_new(reinterpret_cast<PyTypeObject*>(type.ptr()), arguments.ptr(), nullptr);
  if (record == nullptr) throw py::error_already_set();
  return py::reinterpret_steal<py::object>(record);
}

template <class Enum>
py::object member(const py::tuple& members, Enum value) {
  return members[static_cast<std::size_t>(value)];
}

// The C++ value of a member of racking.vocabulary, or of its id.
template <class Enum>
Enum enum_of(py::handle value, const char* what);
template <>
racking::Dimension enum_of<racking::Dimension>(py::handle value, const char* what);
template <>
racking::Origin enum_of<racking::Origin>(py::handle value, const char* what);
template <>
racking::Offsets enum_of<racking::Offsets>(py::handle value, const char* what);
template <>
racking::JsonOptions::Depth enum_of<racking::JsonOptions::Depth>(py::handle value,
                                                                 const char* what);

}  // namespace racking_python
