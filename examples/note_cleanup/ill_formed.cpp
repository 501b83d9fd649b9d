#include "ill_formed.hpp"

#include <simdjson.h>
#include <unicode/utf8.h>

#include <array>
#include <cstdint>

namespace note_cleanup {
namespace {

// U+10FE80 … U+10FEFF stand for the bytes 80 … FF.
constexpr UChar32 first_stand_in = 0x10FE80;

}  // namespace

bool is_well_formed(std::string_view text) noexcept {
  return simdjson::validate_utf8(text.data(), text.size());
}

std::string protect_ill_formed(std::string_view text) {
  std::string safe;
  const auto* data = reinterpret_cast<const std::uint8_t*>(text.data());
  const auto size = static_cast<std::int32_t>(text.size());
  for (std::int32_t at = 0; at < size;) {
    const std::int32_t before = at;
    UChar32 code_point = 0;
    U8_NEXT(data, at, size, code_point);
    if (code_point >= 0) {
      safe.append(text, static_cast<std::size_t>(before), static_cast<std::size_t>(at - before));
      continue;
    }
    for (std::int32_t bad = before; bad < at; ++bad) {
      std::array<std::uint8_t, U8_MAX_LENGTH> bytes{};
      std::int32_t length = 0;
      U8_APPEND_UNSAFE(bytes.data(), length, first_stand_in + data[bad] - 0x80);
      safe.append(reinterpret_cast<const char*>(bytes.data()), static_cast<std::size_t>(length));
    }
  }
  return safe;
}

std::string restore_ill_formed(std::string_view text) {
  std::string restored;
  for (std::size_t at = 0; at < text.size();) {
    // F4 8F BA|BB 80–BF is U+10FE80 … U+10FEFF.
    const auto byte = [&](std::size_t next) { return static_cast<unsigned char>(text[at + next]); };
    if (byte(0) == 0xF4 && at + 3 < text.size() && byte(1) == 0x8F && (byte(2) & 0xFE) == 0xBA) {
      restored += static_cast<char>(0x80 + ((byte(2) & 1) << 6) + (byte(3) & 0x3F));
      at += 4;
    } else {
      restored += text[at++];
    }
  }
  return restored;
}

}  // namespace note_cleanup
