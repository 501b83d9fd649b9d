// How the readings of one dimension make its interval.
//
// All that counts is looked at at once, so order never matters:
//
//   1. Only readings with a range, of `now`, that are not denied count. What comes with air is
//      another moment, and is never combined with now.
//   2. Stated readings count; hedged ones only where none is stated.
//   3. Of the finish, readings that stand in its own phase outrank the rest of their stance.
//   4. The interval is what all of those have in common. If they have nothing in common it is
//      the hull, from the lowest to the highest, and `conflict` says so.
//
// Worked examples, of tannin unless another is named:
//
//   firm [4,4], grippy [4,5]                    → [4,4]            the common part
//   soft [1,3], ripe [2,4], medium [3,3]        → [3,3]
//   soft [1,3], grippy [4,5]                    → [1,5] conflict   both are kept
//   firm [4,4], perhaps soft [1,3]              → [4,4]            a guess yields to a statement
//   perhaps soft [1,3], perhaps ripe [2,4]      → [2,3]            guesses alone
//   grippy [4,5], softer with air [1,3]         → [4,5]            another moment
//   softer with air [1,3], and no more          → none
//   not what I would call tannic, no level left → none             a denial without an interval
//   no tannin [1,1]                             → [1,1]            an absence is a level
//   finish: long [4,5] on the finish,
//           short [1,2] said of the palate      → [4,5]            its own phase outranks
//
// So a reading that shares a step with the interval never widens it, nor does one that lies
// inside the hull of a conflict; and no reading gives no interval.
#pragma once

#include <algorithm>
#include <optional>

#include "racking/note.hpp"

namespace racking::judge {

struct Combined {
  std::optional<Interval> range;
  bool conflict = false;

  friend bool operator==(const Combined&, const Combined&) = default;
};

// Intervals met one by one; the result does not depend on their order.
class Combination {
 public:
  void add(Interval range) noexcept {
    common_ = {std::max(common_.low, range.low), std::min(common_.high, range.high)};
    hull_ = {std::min(hull_.low, range.low), std::max(hull_.high, range.high)};
  }
  bool empty() const noexcept { return hull_.low > hull_.high; }
  Combined result() const noexcept {
    if (empty()) return {};
    const bool conflict = common_.low > common_.high;
    return {conflict ? hull_ : common_, conflict};
  }

 private:
  Interval common_{1, 5};
  Interval hull_{5, 0};   // of nothing
};

// Combines the readings of one dimension. `for_each(visit)` calls `visit` with each of them.
template <class ForEach>
Combined combine(Dimension dimension, ForEach&& for_each) {
  // By rank: stated in its own phase, stated, hedged in its own phase, hedged.
  Combination ranks[4];
  for_each([&](const Reading& reading) {
    if (!reading.range || reading.when != When::now || reading.stance == Stance::denied) return;
    const bool own = dimension == Dimension::finish && reading.phase == Phase::finish;
    ranks[(reading.stance == Stance::hedged ? 2 : 0) + (own ? 0 : 1)].add(*reading.range);
  });
  for (const Combination& rank : ranks)
    if (!rank.empty()) return rank.result();
  return {};
}

}  // namespace racking::judge
