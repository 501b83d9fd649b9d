#include "progress.hpp"

#include <unistd.h>

#include <algorithm>
#include <cstdio>
#include <string>

namespace note_cleanup {
namespace {

constexpr auto interval = std::chrono::milliseconds(100);
constexpr std::size_t bar_width = 30;

}  // namespace

Progress::Progress(bool records_on_standard_output)
    : active_(isatty(STDERR_FILENO) != 0 &&
              !(records_on_standard_output && isatty(STDOUT_FILENO) != 0)),
      next_(std::chrono::steady_clock::now() + interval) {}

void Progress::show(std::uint64_t bytes, std::optional<std::uint64_t> total, std::size_t notes) {
  if (!active_ || std::chrono::steady_clock::now() < next_) return;
  next_ = std::chrono::steady_clock::now() + interval;
  std::string line = "\r";
  if (total && *total > 0) {
    const std::uint64_t done = std::min(bytes, *total);
    const auto filled = static_cast<std::size_t>(done * bar_width / *total);
    line += '[' + std::string(filled, '=') + std::string(bar_width - filled, ' ') + "] " +
            std::to_string(done * 100 / *total) + "%  ";
  } else {
    line += std::to_string(bytes >> 20) + " MB  ";
  }
  line += std::to_string(notes) + " notes\x1b[K";
  std::fputs(line.c_str(), stderr);
  std::fflush(stderr);
  shown_ = true;
}

void Progress::clear() {
  if (!shown_) return;
  std::fputs("\r\x1b[K", stderr);
  std::fflush(stderr);
  shown_ = false;
}

}  // namespace note_cleanup
