// The most frequent phrases of a stream of any length, in bounded memory.
#pragma once

#include <cstdint>
#include <set>
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>
#include <vector>

namespace note_cleanup {

struct FrequentPhrase {
  std::string phrase;
  std::uint64_t count = 0;  // at least count - excess, at most count
  std::uint64_t excess = 0;
  std::string example;
};

// Space-saving (Metwally, Agrawal and El Abbadi 2005): keeps `capacity` phrases; a new one
// takes the place and the count of the rarest. Any phrase that occurs more often than the
// stream's length ÷ capacity is kept for certain.
class PhraseSketch {
 public:
  explicit PhraseSketch(std::size_t capacity) : capacity_(capacity) {}

  void add(const std::string& phrase, std::string_view example);
  // The `wanted` most frequent, the surest first among equals.
  std::vector<FrequentPhrase> top(std::size_t wanted) const;
  bool is_exact() const noexcept { return !replaced_; }
  std::size_t capacity() const noexcept { return capacity_; }

 private:
  using Order = std::pair<std::uint64_t, std::uint64_t>;  // count, then age

  struct Counter {
    std::uint64_t count = 0;
    std::uint64_t excess = 0;
    std::uint64_t age = 0;
    std::string example;
  };

  std::size_t capacity_;
  bool replaced_ = false;
  std::uint64_t next_age_ = 0;
  std::unordered_map<std::string, Counter> counters_;
  std::set<std::pair<Order, const std::string*>> by_count_;
};

}  // namespace note_cleanup
