#include "byte_input.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>

namespace note_cleanup {

ByteInput::ByteInput(const std::string& path)
    : name_(path == "-" ? "standard input" : path),
      descriptor_(path == "-" ? STDIN_FILENO : ::open(path.c_str(), O_RDONLY | O_CLOEXEC)) {
  const auto fail = [&](int error) {
    throw InputError(name_ + ": cannot be read: " + std::strerror(error));
  };
  if (descriptor_ < 0) fail(errno);
  struct stat about {};
  if (::fstat(descriptor_, &about) != 0) fail(errno);
  if (S_ISDIR(about.st_mode)) {
    if (descriptor_ != STDIN_FILENO) ::close(descriptor_);
    fail(EISDIR);
  }
  if (S_ISREG(about.st_mode)) size_ = static_cast<std::uint64_t>(about.st_size);
}

ByteInput::~ByteInput() {
  if (descriptor_ > STDIN_FILENO) ::close(descriptor_);
}

std::size_t ByteInput::read(char* to, std::size_t size) {
  for (;;) {
    const ssize_t got = ::read(descriptor_, to, size);
    if (got >= 0) {
      consumed_ += static_cast<std::uint64_t>(got);
      return static_cast<std::size_t>(got);
    }
    if (errno != EINTR) throw InputError(name_ + ": cannot be read: " + std::strerror(errno));
  }
}

}  // namespace note_cleanup
