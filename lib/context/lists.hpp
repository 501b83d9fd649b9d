// Mentions listed by what they may be, so that later steps look only at their own.
#pragma once

#include "context/workspace.hpp"

namespace racking::context {

// Fills `work.lists`, and what `work.accounted` says of words that say nothing. The mentions must
// be complete: they are not to move after this.
void list_mentions(Workspace& work);

}  // namespace racking::context
