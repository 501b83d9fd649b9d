// Bytes of a file or of standard input, counted as they pass.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <stdexcept>
#include <string>

namespace note_cleanup {

// An input that cannot be opened or read: exit code 3.
class InputError : public std::runtime_error {
  using std::runtime_error::runtime_error;
};

class ByteInput {
 public:
  // "-" is standard input. Throws InputError.
  explicit ByteInput(const std::string& path);
  ~ByteInput();
  ByteInput(const ByteInput&) = delete;
  ByteInput& operator=(const ByteInput&) = delete;

  // Fills up to `size` bytes; 0 at the end only. Throws InputError.
  std::size_t read(char* to, std::size_t size);

  const std::string& name() const noexcept { return name_; }
  std::uint64_t consumed() const noexcept { return consumed_; }
  // The size of a regular file; nothing for a pipe.
  std::optional<std::uint64_t> size() const noexcept { return size_; }

 private:
  std::string name_;
  int descriptor_ = -1;
  std::uint64_t consumed_ = 0;
  std::optional<std::uint64_t> size_;
};

}  // namespace note_cleanup
