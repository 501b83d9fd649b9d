#include "output.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <cstring>

namespace note_cleanup {
namespace {

constexpr std::size_t buffer_size = std::size_t{64} << 10;

// Names of temporary files for the signal handler, which may only call async-safe functions.
constexpr std::size_t most_temporaries = 4;
constexpr std::size_t longest_path = 4096;
std::array<std::array<char, longest_path>, most_temporaries> temporaries{};
std::array<volatile std::sig_atomic_t, most_temporaries> in_use{};

extern "C" void remove_temporaries(int signal_number) {
  for (std::size_t at = 0; at < most_temporaries; ++at) {
    if (in_use[at] != 0) ::unlink(temporaries[at].data());
  }
  std::signal(signal_number, SIG_DFL);
  std::raise(signal_number);
}

void remember(const std::string& path) {
  for (std::size_t at = 0; at < most_temporaries; ++at) {
    if (in_use[at] != 0 || path.size() >= longest_path) continue;
    std::memcpy(temporaries[at].data(), path.c_str(), path.size() + 1);
    in_use[at] = 1;
    break;
  }
  for (const int signal_number : {SIGINT, SIGTERM, SIGHUP}) {
    std::signal(signal_number, remove_temporaries);
  }
}

void forget(const std::string& path) {
  for (std::size_t at = 0; at < most_temporaries; ++at) {
    if (path == temporaries[at].data()) in_use[at] = 0;
  }
}

// A link is followed, so that the file it points to is replaced and not the link.
std::string resolved(const std::string& path) {
  char* real = ::realpath(path.c_str(), nullptr);
  if (real == nullptr) return path;
  std::string result(real);
  std::free(real);
  return result;
}

mode_t mode_for(const std::string& path) {
  struct stat about {};
  if (::stat(path.c_str(), &about) == 0) return about.st_mode & 07777;
  const mode_t mask = ::umask(0);
  ::umask(mask);
  return 0666 & ~mask;
}

}  // namespace

Output::Output(const std::string& path)
    : path_(path == "-" || path.empty() ? std::string() : resolved(path)),
      descriptor_(STDOUT_FILENO) {
  if (path_.empty()) return;
  struct stat about {};
  if (::stat(path_.c_str(), &about) == 0 && !S_ISREG(about.st_mode)) {
    descriptor_ = ::open(path_.c_str(), O_WRONLY | O_CLOEXEC);
    if (descriptor_ < 0) fail(errno);
    return;
  }
  temporary_ = path_ + ".XXXXXX";
  descriptor_ = ::mkostemp(temporary_.data(), O_CLOEXEC);
  if (descriptor_ < 0) {
    const int error = errno;
    temporary_.clear();
    fail(error);
  }
  remember(temporary_);
  if (::fchmod(descriptor_, mode_for(path_)) != 0) fail(errno);
}

Output::~Output() {
  if (descriptor_ > STDOUT_FILENO) ::close(descriptor_);
  if (temporary_.empty()) return;
  ::unlink(temporary_.c_str());
  forget(temporary_);
}

void Output::fail(int error) const {
  throw OutputError((path_.empty() ? "standard output" : path_) +
                    ": cannot be written: " + std::strerror(error));
}

void Output::write(std::string_view bytes) {
  buffer_ += bytes;
  if (buffer_.size() >= buffer_size) flush();
}

void Output::flush() {
  std::string_view left = buffer_;
  while (!left.empty()) {
    const ssize_t written = ::write(descriptor_, left.data(), left.size());
    if (written >= 0) {
      left.remove_prefix(static_cast<std::size_t>(written));
    } else if (errno == EPIPE) {
      throw ReaderLeft{};
    } else if (errno != EINTR) {
      fail(errno);
    }
  }
  buffer_.clear();
}

void Output::commit() {
  flush();
  if (temporary_.empty()) return;
  if (::fsync(descriptor_) != 0) fail(errno);
  if (std::rename(temporary_.c_str(), path_.c_str()) != 0) fail(errno);
  forget(temporary_);
  temporary_.clear();
}

}  // namespace note_cleanup
