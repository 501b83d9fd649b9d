// Rows in, results out in the same order, with many threads between.
#pragma once

#include <condition_variable>
#include <cstddef>
#include <deque>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <utility>
#include <vector>

#include "row.hpp"
#include "tally.hpp"

namespace note_cleanup {

// One row and what was made of it.
struct Work {
  Row row;
  std::size_t entry = 0;  // its place on the page, from 1; 0: none is wanted
  std::string output;
  NoteFacts facts;
  std::optional<racking::Note> note;  // kept only where suggestions are made of it
};

// Runs `process` on batches of work on `jobs` threads and `finish` on each piece of work in the
// order of `add`, on the caller's thread. No more than a few batches a thread are held.
// What `process` throws comes out of `add` or `drain`.
class Pipeline {
 public:
  using Step = std::function<void(Work&)>;

  Pipeline(unsigned jobs, Step process, Step finish);
  ~Pipeline();
  Pipeline(const Pipeline&) = delete;
  Pipeline& operator=(const Pipeline&) = delete;

  void add(Work work);
  void drain();

 private:
  struct Batch {
    std::vector<Work> work;
    bool done = false;
    std::exception_ptr error;
  };

  void send();
  void finish_front();
  void run();

  const std::size_t most_batches_;
  Step process_;
  Step finish_;
  std::shared_ptr<Batch> filling_;
  std::size_t filling_size_ = 0;
  std::deque<std::shared_ptr<Batch>> in_order_;  // the caller's alone

  std::mutex mutex_;
  std::condition_variable to_do_;
  std::condition_variable done_;
  std::deque<std::shared_ptr<Batch>> queue_;
  bool closing_ = false;
  std::vector<std::thread> threads_;
};

}  // namespace note_cleanup
