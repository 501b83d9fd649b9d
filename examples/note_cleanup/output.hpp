// Where records go: standard output, or a file that appears whole or not at all.
#pragma once

#include <stdexcept>
#include <string>
#include <string_view>

namespace note_cleanup {

// The output cannot be written: exit code 3.
class OutputError : public std::runtime_error {
  using std::runtime_error::runtime_error;
};

// Whoever read our output has had enough. No error.
struct ReaderLeft {};

class Output {
 public:
  // Empty or "-": standard output. A file is written beside its place under another name and
  // moved there by `commit`; without `commit` nothing is left of it, after a signal neither.
  explicit Output(const std::string& path);
  ~Output();
  Output(const Output&) = delete;
  Output& operator=(const Output&) = delete;

  void write(std::string_view bytes);
  void commit();
  bool is_standard() const noexcept { return path_.empty(); }

 private:
  void flush();
  [[noreturn]] void fail(int error) const;

  std::string path_;       // empty: standard output
  std::string temporary_;  // empty: written in place (a pipe, a device)
  int descriptor_;
  std::string buffer_;
};

}  // namespace note_cleanup
