#include "racking/hierarchy.hpp"

#include <algorithm>
#include <unordered_map>
#include <vector>

namespace racking {
inline namespace v1 {
namespace {

using ParentsOf = std::function<std::span<const std::uint32_t>(std::uint32_t)>;
using Counts = std::unordered_map<std::uint32_t, std::uint32_t>;

// Every ancestor, itself included, with the steps of the shortest way up.
Counts shortest_ways_up(std::uint32_t start, const ParentsOf& parents_of) {
  Counts steps{{start, 0}};
  std::vector<std::uint32_t> queue{start};
  for (std::size_t i = 0; i < queue.size(); ++i) {
    const std::uint32_t next = steps[queue[i]] + 1;
    for (const std::uint32_t parent : parents_of(queue[i]))
      if (steps.emplace(parent, next).second) queue.push_back(parent);
  }
  return steps;
}

// Nodes on the longest chain from a root; a stack of our own, for hierarchies of any depth.
std::uint32_t depth_of(std::uint32_t start, const ParentsOf& parents_of, Counts& known) {
  std::vector<std::uint32_t> stack{start};
  while (!stack.empty()) {
    const std::uint32_t node = stack.back();
    std::uint32_t deepest = 0;
    bool waits = false;
    if (!known.contains(node))
      for (const std::uint32_t parent : parents_of(node)) {
        const auto found = known.find(parent);
        if (found != known.end()) {
          deepest = std::max(deepest, found->second);
        } else {
          stack.push_back(parent);
          waits = true;
        }
      }
    if (waits) continue;
    stack.pop_back();
    known.emplace(node, deepest + 1);
  }
  return known.at(start);
}

}  // namespace

double wu_palmer(std::uint32_t a, std::uint32_t b, const ParentsOf& parents_of) {
  const Counts from_a = shortest_ways_up(a, parents_of);
  const Counts from_b = shortest_ways_up(b, parents_of);
  Counts depths;
  std::uint32_t depth = 0, length = 0;
  for (const auto& [node, up_a] : from_a) {
    const auto found = from_b.find(node);
    if (found == from_b.end()) continue;
    const std::uint32_t own = depth_of(node, parents_of, depths);
    const std::uint32_t way = up_a + found->second;
    if (own > depth || (own == depth && way < length)) {
      depth = own;
      length = way;
    }
  }
  return depth == 0 ? 0.0 : 2.0 * depth / (static_cast<double>(length) + 2.0 * depth);
}

}  // namespace v1
}  // namespace racking
