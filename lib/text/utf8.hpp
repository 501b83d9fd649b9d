// UTF-8, well-formed or not.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "racking/span.hpp"

namespace racking::text {

struct Decoded {
  char32_t code_point;      // U+FFFD for an ill-formed part
  std::uint32_t length;     // in bytes, at least 1
  bool well_formed;
};

// Decodes the code point at `offset`; an ill-formed part is as long as the
// maximal subpart of The Unicode Standard, 3.9 (table 3-8). Inline, for the
// scanners decode every character that is not ASCII.
inline Decoded decode(std::string_view text, std::uint32_t offset) noexcept {
  const auto lead = static_cast<unsigned char>(text[offset]);
  if (lead < 0x80) return {lead, 1, true};
  if (lead < 0xC2 || lead > 0xF4) return {0xFFFD, 1, false};
  const std::uint32_t length = lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
  // The bounds of the second byte (table 3-7); later ones may be any trail byte.
  unsigned char low = lead == 0xE0 ? 0xA0 : lead == 0xF0 ? 0x90 : 0x80;
  unsigned char high = lead == 0xED ? 0x9F : lead == 0xF4 ? 0x8F : 0xBF;
  char32_t code_point = lead & (0x7FU >> length);
  for (std::uint32_t at = 1; at < length; ++at) {
    if (offset + at >= text.size()) return {0xFFFD, at, false};
    const auto next = static_cast<unsigned char>(text[offset + at]);
    if (next < low || next > high) return {0xFFFD, at, false};
    code_point = (code_point << 6) | (next & 0x3FU);
    low = 0x80;
    high = 0xBF;
  }
  return {code_point, length, true};
}

void append(std::string& out, char32_t code_point);
bool is_ascii(std::string_view text) noexcept;
// Every maximal ill-formed part, in order.
std::vector<Span> ill_formed_parts(std::string_view text);

}  // namespace racking::text
