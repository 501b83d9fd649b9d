#include "text/utf8.hpp"

#include <cstring>

namespace racking::text {
namespace {

struct Lead {
  std::uint32_t length;   // 0: no lead byte
  unsigned char low;      // bounds of the second byte (The Unicode Standard, table 3-7)
  unsigned char high;
};

Lead lead_of(unsigned char byte) noexcept {
  if (byte < 0xC2 || byte > 0xF4) return {0, 0, 0};
  if (byte < 0xE0) return {2, 0x80, 0xBF};
  if (byte < 0xF0) {
    return {3, static_cast<unsigned char>(byte == 0xE0 ? 0xA0 : 0x80),
            static_cast<unsigned char>(byte == 0xED ? 0x9F : 0xBF)};
  }
  return {4, static_cast<unsigned char>(byte == 0xF0 ? 0x90 : 0x80),
          static_cast<unsigned char>(byte == 0xF4 ? 0x8F : 0xBF)};
}

}  // namespace

Decoded decode(std::string_view text, std::uint32_t offset) noexcept {
  const auto byte = static_cast<unsigned char>(text[offset]);
  if (byte < 0x80) return {byte, 1, true};
  const Lead lead = lead_of(byte);
  if (lead.length == 0) return {0xFFFD, 1, false};
  char32_t code_point = byte & (0x7FU >> lead.length);
  unsigned char low = lead.low;
  unsigned char high = lead.high;
  for (std::uint32_t at = 1; at < lead.length; ++at) {
    if (offset + at >= text.size()) return {0xFFFD, at, false};
    const auto next = static_cast<unsigned char>(text[offset + at]);
    if (next < low || next > high) return {0xFFFD, at, false};
    code_point = (code_point << 6) | (next & 0x3FU);
    low = 0x80;
    high = 0xBF;
  }
  return {code_point, lead.length, true};
}

void append(std::string& out, char32_t code_point) {
  const auto trail = [&](unsigned shift) {
    out.push_back(static_cast<char>(0x80U | ((code_point >> shift) & 0x3FU)));
  };
  if (code_point > 0x10FFFF || (code_point >= 0xD800 && code_point <= 0xDFFF)) code_point = 0xFFFD;
  if (code_point < 0x80) {
    out.push_back(static_cast<char>(code_point));
  } else if (code_point < 0x800) {
    out.push_back(static_cast<char>(0xC0U | (code_point >> 6)));
    trail(0);
  } else if (code_point < 0x10000) {
    out.push_back(static_cast<char>(0xE0U | (code_point >> 12)));
    trail(6);
    trail(0);
  } else {
    out.push_back(static_cast<char>(0xF0U | (code_point >> 18)));
    trail(12);
    trail(6);
    trail(0);
  }
}

bool is_ascii(std::string_view text) noexcept {
  constexpr std::uint64_t high_bits = 0x8080808080808080U;
  std::uint64_t seen = 0;
  std::size_t at = 0;
  for (; at + 8 <= text.size(); at += 8) {
    std::uint64_t block = 0;
    std::memcpy(&block, text.data() + at, 8);
    seen |= block;
    if ((seen & high_bits) != 0) return false;
  }
  for (; at < text.size(); ++at) seen |= static_cast<unsigned char>(text[at]);
  return (seen & high_bits) == 0;
}

std::vector<Span> ill_formed_parts(std::string_view text) {
  std::vector<Span> parts;
  const auto size = static_cast<std::uint32_t>(text.size());
  for (std::uint32_t at = 0; at < size;) {
    const Decoded decoded = decode(text, at);
    if (!decoded.well_formed) parts.push_back({at, at + decoded.length});
    at += decoded.length;
  }
  return parts;
}

}  // namespace racking::text
