// Word boundaries: UAX #29, less a few deliberate differences.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

namespace racking::text {

// Every boundary, 0 and the length included (none for an empty text).
// Differences from UAX #29, each with a test: a letter and a colon, or a letter
// and a full stop, break ("Nose:x", "full.Long"); a number and a unit break
// ("12g"). The rest agrees case by case with WordBreakTest.txt.
void word_breaks(std::string_view text, std::vector<std::uint32_t>& out);

}  // namespace racking::text
