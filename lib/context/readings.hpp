// Mentions and attached levels into the readings of a note.
#pragma once

#include "context/workspace.hpp"

namespace racking::context {

// Fills statements, aromas, readings, traits, sight, faults, names, quantities and their
// asides, and marks what they account for. Needs everything before it in the flow.
void write_readings(const lexicon::CompiledLexicon& lexicon, Workspace& work,
                    Note::Content& note);

}  // namespace racking::context
