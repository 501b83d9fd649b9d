#include "text/offsets.hpp"

#include <algorithm>

#include "text/utf8.hpp"

namespace racking::text {

OffsetTable::OffsetTable(std::string_view text, Offsets unit) {
  if (unit == Offsets::byte || is_ascii(text)) return;
  const auto size = static_cast<std::uint32_t>(text.size());
  std::uint32_t offset = 0;
  for (std::uint32_t at = 0; at < size;) {
    if (static_cast<unsigned char>(text[at]) < 0x80) {
      ++at;
      ++offset;
      continue;
    }
    const Decoded decoded = decode(text, at);
    const bool pair = unit == Offsets::utf16 && decoded.code_point > 0xFFFF;
    const auto length = static_cast<std::uint16_t>(decoded.length);
    const std::uint16_t units = pair ? 2 : 1;
    if (length > 1) {
      const bool extends = !runs_.empty() && runs_.back().length == length &&
                           runs_.back().units == units &&
                           runs_.back().byte + runs_.back().count * length == at;
      if (extends) {
        ++runs_.back().count;
      } else {
        runs_.push_back({at, offset, 1, length, units});
      }
    }
    at += decoded.length;
    offset += units;
  }
}

std::uint32_t OffsetTable::operator()(std::uint32_t byte) const noexcept {
  const auto after = std::upper_bound(
      runs_.begin(), runs_.end(), byte,
      [](std::uint32_t place, const Run& run) { return place < run.byte; });
  if (after == runs_.begin()) return byte;
  const Run& run = *(after - 1);
  const std::uint32_t into = byte - run.byte;
  const std::uint32_t whole = run.count * run.length;
  if (into < whole) return run.offset + into / run.length * run.units;
  return run.offset + run.count * run.units + (into - whole);
}

}  // namespace racking::text
