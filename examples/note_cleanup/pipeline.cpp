#include "pipeline.hpp"

namespace note_cleanup {
namespace {

constexpr std::size_t batch_rows = 64;
constexpr std::size_t batch_bytes = std::size_t{256} << 10;
constexpr std::size_t batches_a_thread = 4;

}  // namespace

Pipeline::Pipeline(unsigned jobs, Step process, Step finish)
    : most_batches_(jobs * batches_a_thread),
      process_(std::move(process)),
      finish_(std::move(finish)),
      filling_(std::make_shared<Batch>()) {
  for (unsigned job = 0; job < jobs; ++job) threads_.emplace_back([this] { run(); });
}

Pipeline::~Pipeline() {
  {
    const std::lock_guard lock(mutex_);
    closing_ = true;
    queue_.clear();
  }
  to_do_.notify_all();
  for (auto& thread : threads_) thread.join();
}

void Pipeline::run() {
  for (;;) {
    std::shared_ptr<Batch> batch;
    {
      std::unique_lock lock(mutex_);
      to_do_.wait(lock, [this] { return closing_ || !queue_.empty(); });
      if (queue_.empty()) return;
      batch = std::move(queue_.front());
      queue_.pop_front();
    }
    std::exception_ptr error;
    try {
      for (auto& work : batch->work) process_(work);
    } catch (...) {
      error = std::current_exception();
    }
    {
      const std::lock_guard lock(mutex_);
      batch->error = error;
      batch->done = true;
    }
    done_.notify_one();
  }
}

void Pipeline::add(Work work) {
  filling_size_ += work.row.raw.size();
  filling_->work.push_back(std::move(work));
  if (filling_->work.size() >= batch_rows || filling_size_ >= batch_bytes) send();
}

void Pipeline::send() {
  if (filling_->work.empty()) return;
  in_order_.push_back(filling_);
  {
    const std::lock_guard lock(mutex_);
    queue_.push_back(std::exchange(filling_, std::make_shared<Batch>()));
  }
  filling_size_ = 0;
  to_do_.notify_one();
  while (in_order_.size() >= most_batches_) finish_front();
}

void Pipeline::finish_front() {
  const std::shared_ptr<Batch> batch = std::move(in_order_.front());
  in_order_.pop_front();
  {
    std::unique_lock lock(mutex_);
    done_.wait(lock, [&] { return batch->done; });
  }
  if (batch->error) std::rethrow_exception(batch->error);
  for (auto& work : batch->work) finish_(work);
}

void Pipeline::drain() {
  send();
  while (!in_order_.empty()) finish_front();
}

}  // namespace note_cleanup
