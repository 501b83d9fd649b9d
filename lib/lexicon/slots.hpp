// Finds numbered things by their hash while a lexicon is built.
#pragma once

#include <cstdint>
#include <vector>

namespace racking::lexicon {

// An open-addressed table of numbers from 1, at most half full; what a number stands for is the
// caller's.
class Slots {
 public:
  // The number among those of this hash that `is_it`; 0 if none.
  template <class IsIt>
  std::uint32_t find(std::uint64_t hash, IsIt is_it) const {
    if (slots_.empty()) return 0;
    const auto part = static_cast<std::uint32_t>(hash);
    for (std::size_t at = part & mask();; at = (at + 1) & mask()) {
      if (slots_[at].number == 0) return 0;
      if (slots_[at].part == part && is_it(slots_[at].number)) return slots_[at].number;
    }
  }
  void add(std::uint64_t hash, std::uint32_t number) {
    if (2 * ++used_ > slots_.size()) grow();
    place({static_cast<std::uint32_t>(hash), number});
  }

 private:
  struct Slot { std::uint32_t part, number; };   // the low half of the hash

  std::size_t mask() const { return slots_.size() - 1; }
  void place(Slot slot) {
    std::size_t at = slot.part & mask();
    while (slots_[at].number != 0) at = (at + 1) & mask();
    slots_[at] = slot;
  }
  void grow() {
    std::vector<Slot> old(slots_.empty() ? 1024 : 2 * slots_.size());
    old.swap(slots_);
    for (const Slot& slot : old)
      if (slot.number != 0) place(slot);
  }

  std::vector<Slot> slots_;
  std::size_t used_ = 0;
};

}  // namespace racking::lexicon
