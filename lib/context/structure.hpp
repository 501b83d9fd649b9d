// Which level belongs to which dimension.
#pragma once

#include "context/workspace.hpp"

namespace racking::context {

// Attaches levels to anchors, before or after them, adds phrases and levels that speak for
// themselves, and fills `structures` in text order. Needs decided senses.
void attach_structure(const lexicon::CompiledLexicon& lexicon, Workspace& work);

}  // namespace racking::context
