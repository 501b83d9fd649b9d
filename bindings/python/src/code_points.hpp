// From byte offsets to code points, the unit that Python's strings count in.
#pragma once

#include <algorithm>
#include <cstdint>
#include <string_view>
#include <vector>

#include <racking/span.hpp>

namespace racking_python {

// Converts offsets of one well-formed text, which must outlive it. Empty text: all ASCII, offsets
// stay as they are. Cost: one pass to build, at most `stride` bytes an offset.
class CodePoints {
 public:
  explicit CodePoints(std::string_view text) : text_(text) {
    if (text_.empty()) return;
    before_.reserve(text_.size() / stride + 1);
    std::uint32_t count = 0;
    for (std::size_t at = 0; at < text_.size(); ++at) {
      if (at % stride == 0) before_.push_back(count);
      count += starts(text_[at]);
    }
  }

  std::uint32_t operator()(std::uint32_t byte) const noexcept {
    if (text_.empty()) return byte;
    const std::size_t end = std::min<std::size_t>(byte, text_.size());
    const std::size_t stretch = std::min(end / stride, before_.size() - 1);
    std::uint32_t count = before_[stretch];
    for (std::size_t at = stretch * stride; at < end; ++at) count += starts(text_[at]);
    return count;
  }
  racking::Span operator()(racking::Span span) const noexcept {
    return {(*this)(span.begin), (*this)(span.end)};
  }

 private:
  static constexpr std::size_t stride = 64;
  static std::uint32_t starts(char c) noexcept { return (c & 0xC0) == 0x80 ? 0 : 1; }

  std::string_view text_;
  std::vector<std::uint32_t> before_;  // code points before each stretch of `stride` bytes
};

}  // namespace racking_python
