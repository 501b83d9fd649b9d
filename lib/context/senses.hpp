// Which sense of a form is meant.
#pragma once

#include "context/workspace.hpp"

namespace racking::context {

// Decides every mention from the lexicon's sense rules. Needs `phases`. A level that is also
// a trait stays a level: whether it attaches is for `attach_structure` to find.
void decide_senses(const match::MatchIndex& index, Workspace& work);

}  // namespace racking::context
