// Work on many texts at once, in blocks, without the GIL.
#pragma once

#include <algorithm>
#include <atomic>
#include <cstddef>
#include <exception>
#include <thread>
#include <vector>

namespace racking_python {

inline constexpr std::size_t block_size = 128;

// Calls work(block, begin, end) for every block of `count` items, on `jobs` threads of which the
// caller's is one. Rethrows the first failure after all threads are done.
template <class Work>
void in_blocks(std::size_t count, unsigned jobs, Work work) {
  const std::size_t blocks = (count + block_size - 1) / block_size;
  std::atomic<std::size_t> next{0};
  const std::size_t threads = std::min<std::size_t>(std::max(1U, jobs), blocks);
  std::vector<std::exception_ptr> failures(std::max<std::size_t>(threads, 1));
  const auto run = [&](std::size_t thread) {
    try {
      for (std::size_t block = next++; block < blocks; block = next++)
        work(block, block * block_size, std::min(count, (block + 1) * block_size));
    } catch (...) {
      failures[thread] = std::current_exception();
      next = blocks;
    }
  };
  std::vector<std::thread> others;
  try {
    for (std::size_t thread = 1; thread < threads; ++thread) others.emplace_back(run, thread);
  } catch (const std::system_error&) {
    // No more threads to be had: those that run do the work.
  }
  run(0);
  for (auto& thread : others) thread.join();
  for (const auto& failure : failures)
    if (failure) std::rethrow_exception(failure);
}

inline std::size_t block_count(std::size_t count) { return (count + block_size - 1) / block_size; }

}  // namespace racking_python
