#include <algorithm>

#include "judge/judge.hpp"

namespace racking::judge {

namespace {

struct Combination {
  std::optional<Interval> common, hull;
  int count = 0;

  void add(Interval range) {
    if (count++ == 0) {
      common = hull = range;
      return;
    }
    hull = Interval{std::min(hull->low, range.low), std::max(hull->high, range.high)};
    if (!common) return;
    const Interval both{std::max(common->low, range.low), std::min(common->high, range.high)};
    if (both.low <= both.high)
      common = both;
    else
      common.reset();
  }
};

Combination combined(const Note::Content& note, const Level& level, Stance stance,
                     bool own_phase_only) {
  Combination result;
  for (const std::uint32_t index : level.readings) {
    const Reading& reading = note.readings[index];
    if (!reading.range || reading.stance != stance || reading.when != When::now) continue;
    if (own_phase_only && reading.phase != Phase::finish) continue;
    result.add(*reading.range);
  }
  return result;
}

void combine(Note::Content& note, Level& level, Dimension dimension) {
  if (level.readings.empty()) return;
  Combination best;
  for (const Stance stance : {Stance::stated, Stance::hedged}) {
    if (dimension == Dimension::finish) best = combined(note, level, stance, true);
    if (best.count == 0) best = combined(note, level, stance, false);
    if (best.count != 0) break;
  }
  if (best.count == 0) return;
  level.conflict = !best.common;
  level.range = best.common ? best.common : best.hull;
}

}  // namespace

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
    combine(note, note.structure[dimension], dimension);
  }
}

}  // namespace racking::judge
