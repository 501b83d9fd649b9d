// The most frequent keys of a stream of any length, in bounded memory.
#pragma once

#include <algorithm>
#include <cstdint>
#include <set>
#include <string>
#include <unordered_map>
#include <utility>
#include <vector>

namespace racking::study {

// Space-Saving (Metwally, Agrawal and El Abbadi 2005): keeps `capacity` keys; a new one takes
// the place and the count of the rarest. Any key that occurs more often than the stream's length
// ÷ capacity is kept for certain. `Kept` is what is remembered of a key while it is held.
template <class Kept>
class Sketch {
 public:
  struct Counter {
    std::uint64_t count = 0;    // at most this, at least count - excess
    std::uint64_t excess = 0;
    Kept kept;
    std::uint64_t age = 0;
  };
  using Item = std::pair<const std::string, Counter>;

  explicit Sketch(std::size_t capacity) : capacity_(capacity) {}

  Kept& add(const std::string& key) {
    auto found = counters_.find(key);
    if (found == counters_.end()) {
      Counter counter;
      if (counters_.size() >= capacity_) counter.excess = counter.count = forget_rarest();
      counter.age = next_age_++;
      found = counters_.emplace(key, std::move(counter)).first;
    } else {
      by_count_.erase(place_of(*found));
    }
    ++found->second.count;
    by_count_.insert(place_of(*found));
    return found->second.kept;
  }
  // By count; the surest, then the first in the alphabet, among equals.
  std::vector<const Item*> top(std::size_t wanted) const {
    std::vector<const Item*> all;
    for (const Item& item : counters_) all.push_back(&item);
    const auto before = [](const Item* a, const Item* b) {
      if (a->second.count != b->second.count) return a->second.count > b->second.count;
      if (a->second.excess != b->second.excess) return a->second.excess < b->second.excess;
      return a->first < b->first;
    };
    std::sort(all.begin(), all.end(), before);
    if (all.size() > wanted) all.resize(wanted);
    return all;
  }
  bool is_exact() const noexcept { return exact_; }

 private:
  using Place = std::pair<std::pair<std::uint64_t, std::uint64_t>, const Item*>;

  static Place place_of(const Item& item) {
    return {{item.second.count, item.second.age}, &item};
  }
  std::uint64_t forget_rarest() {
    const auto rarest = by_count_.begin();
    const std::uint64_t count = rarest->first.first;
    const std::string key = rarest->second->first;
    by_count_.erase(rarest);
    counters_.erase(key);
    exact_ = false;
    return count;
  }

  std::size_t capacity_;
  bool exact_ = true;
  std::uint64_t next_age_ = 0;
  std::unordered_map<std::string, Counter> counters_;
  std::set<Place> by_count_;
};

}  // namespace racking::study
