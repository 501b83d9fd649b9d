// A Source into compiled tables: references resolved, inflection done.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "lexicon/compiled.hpp"
#include "lexicon/source.hpp"

namespace racking::lexicon {

// Compiles `source`, on top of `base` if given (an overlay: what it adds may refer to the
// base's ids; inflection rules and exceptions are the base's and its own). Appends every
// problem found: missing parent, cycle, doubled id, a form claimed twice with no sense rule,
// an empty form, an unknown reference. Returns the blob; empty if there are problems.
std::string build(const Source& source, const CompiledLexicon* base,
                  std::vector<Problem>& problems);

}  // namespace racking::lexicon
