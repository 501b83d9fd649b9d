// The embedded house lexicon, which `lexicon-compiler` writes.
#pragma once

#include <string_view>

namespace racking::lexicon {

std::string_view house_blob() noexcept;

}  // namespace racking::lexicon
