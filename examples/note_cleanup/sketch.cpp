#include "sketch.hpp"

#include <algorithm>

namespace note_cleanup {

void PhraseSketch::add(const std::string& phrase, std::string_view example) {
  auto found = counters_.find(phrase);
  if (found != counters_.end()) {
    Counter& counter = found->second;
    by_count_.erase({{counter.count, counter.age}, &found->first});
    ++counter.count;
    by_count_.insert({{counter.count, counter.age}, &found->first});
    return;
  }
  Counter counter{1, 0, next_age_++, std::string(example)};
  if (counters_.size() >= capacity_) {
    const auto rarest = by_count_.begin();
    counter.excess = rarest->first.first;
    counter.count = counter.excess + 1;
    const std::string gone = *rarest->second;
    by_count_.erase(rarest);
    counters_.erase(gone);
    replaced_ = true;
  }
  found = counters_.emplace(phrase, std::move(counter)).first;
  by_count_.insert({{found->second.count, found->second.age}, &found->first});
}

std::vector<FrequentPhrase> PhraseSketch::top(std::size_t wanted) const {
  std::vector<FrequentPhrase> all;
  for (auto at = by_count_.rbegin(); at != by_count_.rend(); ++at) {
    const Counter& counter = counters_.at(*at->second);
    all.push_back({*at->second, counter.count, counter.excess, counter.example});
  }
  std::stable_sort(all.begin(), all.end(), [](const auto& a, const auto& b) {
    if (a.count != b.count) return a.count > b.count;
    if (a.excess != b.excess) return a.excess < b.excess;
    return a.phrase < b.phrase;
  });
  if (all.size() > wanted) all.resize(wanted);
  return all;
}

}  // namespace note_cleanup
