// Apart from lexicon.cpp, so that racking_core links without the blob.
#include "lexicon/house.hpp"

#include "lexicon/compiled.hpp"
#include "racking/lexicon.hpp"

namespace racking {
inline namespace v1 {

Lexicon Lexicon::house() {
  return Lexicon(lexicon::CompiledLexicon::from_static(lexicon::house_blob()));
}

}  // namespace v1
}  // namespace racking
