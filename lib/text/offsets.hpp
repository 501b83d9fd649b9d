// One table from byte offsets to code points and UTF-16 units.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "racking/span.hpp"

namespace racking::text {

// Converts offsets of one text. An all-ASCII text needs no table. Each maximal
// ill-formed part of the text counts as one code point, and as one UTF-16 unit.
class OffsetTable {
 public:
  OffsetTable() = default;
  OffsetTable(std::string_view text, Offsets unit);

  std::uint32_t operator()(std::uint32_t byte) const noexcept;
  Span operator()(Span span) const noexcept { return {(*this)(span.begin), (*this)(span.end)}; }

 private:
  // Checkpoints where the difference between the two counts changes.
  struct Step { std::uint32_t byte; std::uint32_t offset; };
  std::vector<Step> steps_;
};

}  // namespace racking::text
