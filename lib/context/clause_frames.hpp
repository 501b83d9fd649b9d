// What a clause speaks of, where no cue says it: its words are weighed.
#pragma once

#include "context/workspace.hpp"
#include "match/index.hpp"

namespace racking::context {

// Gives each stretch of clauses whose words tell enough of one frame that frame, but for what cues
// have said already and what speaks of the wine. After paint_scopes.
void weigh_clauses(const match::MatchIndex& index, Workspace& work);

}  // namespace racking::context
