// Reading a text once more, with its decisions recorded.
#pragma once

#include "context/workspace.hpp"
#include "explain/forms.hpp"
#include "match/spelling.hpp"
#include "note_content.hpp"
#include "racking/reader.hpp"

namespace racking::explain {

// Reads `note`, which holds nothing but its text, as `Reader::read` does; `work.trace` is set.
void read_again(const Reader::Machine& machine, context::Workspace& work, Note::Content& note);

// Made when first asked for; safe from any thread.
const Forms& forms_of(const Reader::Machine& machine);
const match::Spelling& spelling_of(const Reader::Machine& machine);

}  // namespace racking::explain
