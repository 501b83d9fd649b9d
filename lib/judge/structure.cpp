#include "judge/combination.hpp"
#include "judge/judge.hpp"

namespace racking::judge {

void combine_structure(Note::Content& note) {
  for (std::uint32_t i = 0; i < note.readings.size(); ++i)
    note.structure[note.readings[i].dimension].readings.push_back(i);
  for (const Trait& trait : note.traits) {
    if (!trait.dimension || trait.stance == Stance::denied) continue;
    auto& traits = note.structure[*trait.dimension].traits;
    if (!traits.contains(trait.id)) traits.push_back(trait.id);
  }
  for (std::size_t d = 0; d < dimension_count; ++d) {
    const auto dimension = static_cast<Dimension>(d);
    Level& level = note.structure[dimension];
    if (level.readings.empty()) continue;
    const Combined combined = combine(dimension, [&](auto&& visit) {
      for (const std::uint32_t index : level.readings) visit(note.readings[index]);
    });
    level.range = combined.range;
    level.conflict = combined.conflict;
  }
}

}  // namespace racking::judge
