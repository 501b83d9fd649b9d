// One table from byte offsets to code points and UTF-16 units.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "racking/span.hpp"

namespace racking::text {

// Converts offsets of one text. An all-ASCII text needs no table. Each maximal
// ill-formed part of the text counts as one code point, and as one UTF-16 unit.
// An offset inside a character counts as the start of that character.
class OffsetTable {
 public:
  OffsetTable() = default;
  OffsetTable(std::string_view text, Offsets unit);

  std::uint32_t operator()(std::uint32_t byte) const noexcept;
  Span operator()(Span span) const noexcept { return {(*this)(span.begin), (*this)(span.end)}; }

 private:
  // A run of characters of one shape; after it, and up to the next run, a byte
  // counts as one unit.
  struct Run {
    std::uint32_t byte;        // where the run begins …
    std::uint32_t offset;      // … and the same place in units
    std::uint32_t count;       // characters
    std::uint16_t length;      // bytes of each
    std::uint16_t units;       // units of each
  };
  std::vector<Run> runs_;
};

}  // namespace racking::text
