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
// maximal subpart of The Unicode Standard, 3.9 (table 3-8).
Decoded decode(std::string_view text, std::uint32_t offset) noexcept;
void append(std::string& out, char32_t code_point);
bool is_ascii(std::string_view text) noexcept;
// Every maximal ill-formed part, in order.
std::vector<Span> ill_formed_parts(std::string_view text);

}  // namespace racking::text
