#include "text/utf8.hpp"

#include <cstring>

namespace racking::text {

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
