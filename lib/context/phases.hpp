// Phases that follow from what was found rather than from a cue.
#pragma once

#include "context/workspace.hpp"

namespace racking::context {

// A hue or depth makes its stretch `sight` where no cue rules. Under a nose heading, a
// later sentence with a level in it opens the palate: "Nose: guava. Lime, high acidity."
void refine_phases(const lexicon::CompiledLexicon& lexicon, Workspace& work);

}  // namespace racking::context
