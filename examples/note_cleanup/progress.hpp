// One line on a terminal that says how far the reading is.
#pragma once

#include <chrono>
#include <cstddef>
#include <cstdint>
#include <optional>

namespace note_cleanup {

class Progress {
 public:
  // Shows nothing unless standard error is a terminal that the records do not go to.
  explicit Progress(bool records_on_standard_output);
  ~Progress() { clear(); }
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;

  // `total`: bytes of all inputs, if known. At most ten times a second.
  void show(std::uint64_t bytes, std::optional<std::uint64_t> total, std::size_t notes);
  // Takes the line away, before anything else is printed.
  void clear();

 private:
  bool active_;
  bool shown_ = false;
  std::chrono::steady_clock::time_point next_;
};

}  // namespace note_cleanup
