// Similarity over any hierarchy.
#pragma once

#include <cstdint>
#include <functional>
#include <span>

#include "racking/export.hpp"

namespace racking {
inline namespace v1 {

/// Wu–Palmer similarity (Wu and Palmer 1994) of two nodes in any hierarchy that
/// `parents_of` walks: 2·d(c) ÷ (len(a,c) + len(b,c) + 2·d(c)), where c is the deepest common
/// ancestor, d its depth counted in nodes from the root along the longest
/// chain, and len the shortest way up to it. 0 where the nodes share no ancestor.
/// Cost: the number of ancestors of both. `parents_of` must be free of cycles.
RACKING_EXPORT double wu_palmer(
    std::uint32_t a, std::uint32_t b,
    const std::function<std::span<const std::uint32_t>(std::uint32_t)>& parents_of);

}  // namespace v1
}  // namespace racking
