// Where scopes end: sentences, clauses, commas, verbs, contrasts.
#pragma once

#include <string_view>

#include "context/workspace.hpp"
#include "match/index.hpp"

namespace racking::context {

// Fills `stops` from punctuation, line breaks and the lexicon's stop cues.
void mark_boundaries(std::string_view text, const match::MatchIndex& index, Workspace& work);

}  // namespace racking::context
