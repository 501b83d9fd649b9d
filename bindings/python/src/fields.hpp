// Makes the Python objects of a note's fields.
#pragma once

#include "python.hpp"

namespace racking_python {

// The field, made when first asked for and kept in the note.
py::object field(NoteBox&, NoteBox::Field);

// An Explanation of a reading of the note. Raises WrongType, BadArgument.
py::object explain(NoteBox&, py::handle reading);

}  // namespace racking_python
