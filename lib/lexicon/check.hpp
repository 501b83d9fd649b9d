// Proof that no index of a blob leaves its table. Linear in the blob's size.
#pragma once

#include "lexicon/compiled.hpp"

namespace racking::lexicon {

// What is wrong; null if nothing is.
const char* check_tables(const CompiledLexicon& lexicon);

}  // namespace racking::lexicon
