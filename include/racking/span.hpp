// Places in a text.
#pragma once

#include <cstdint>

namespace racking {
inline namespace v1 {

/// A half-open range of UTF-8 byte offsets into the text of a `Note`.
struct Span {
  std::uint32_t begin = 0;
  std::uint32_t end = 0;

  constexpr std::uint32_t size() const noexcept { return end - begin; }
  constexpr bool empty() const noexcept { return begin == end; }
  constexpr bool contains(Span other) const noexcept {
    return begin <= other.begin && other.end <= end;
  }
  constexpr bool overlaps(Span other) const noexcept {
    return begin < other.end && other.begin < end;
  }
  friend constexpr bool operator==(Span, Span) noexcept = default;
  friend constexpr auto operator<=>(Span, Span) noexcept = default;
};

/// The unit in which offsets are written out.
enum class Offsets : std::uint8_t { byte, codepoint, utf16 };

}  // namespace v1
}  // namespace racking
