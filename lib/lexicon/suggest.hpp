// "did you mean …?"
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace racking::lexicon {

// The candidate nearest to `word` by edit distance, if near enough to be meant; else empty.
std::string_view nearest(std::string_view word, std::span<const std::string_view> candidates);

// "did you mean 'parents'?", or "one of: a, b, c" for a short list, or `otherwise`.
std::string suggestion(std::string_view word, std::span<const std::string_view> candidates,
                       std::string_view otherwise);

}  // namespace racking::lexicon
