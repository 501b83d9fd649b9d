// Where scopes end: sentences, clauses, commas, verbs, contrasts.
#pragma once

#include <string_view>

#include "context/workspace.hpp"

namespace racking::context {

// Fills `stops` from punctuation, line breaks and the lexicon's stop cues.
void mark_boundaries(std::string_view text, const lexicon::CompiledLexicon& lexicon,
                     Workspace& work);

}  // namespace racking::context
