// What must not change when a tidy text is read in its turn.
#pragma once

#include <array>
#include <optional>
#include <set>
#include <string>

#include "racking/racking.hpp"

namespace racking::tests {

inline const Reader& reader() {
  static const Reader shared;
  return shared;
}

// "hedgerow stated": each family that the note speaks of, with its stance.
inline std::set<std::string> families(const Note& note) {
  std::set<std::string> found;
  for (const Aroma& aroma : note.aromas())
    found.insert(std::string(aroma.descriptor.family().id()) + " " +
                 std::string(name_of(aroma.stance)));
  return found;
}

// "tannin 4-5": the combined range of each dimension that has one.
inline std::set<std::string> ranges(const Note& note) {
  std::set<std::string> found;
  for (std::size_t d = 0; d < dimension_count; ++d) {
    const auto dimension = static_cast<Dimension>(d);
    if (const auto& range = note.structure()[dimension].range)
      found.insert(std::string(name_of(dimension)) + " " + std::to_string(range->low) + "-" +
                   std::to_string(range->high));
  }
  return found;
}

}  // namespace racking::tests
