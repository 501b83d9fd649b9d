// Word boundaries: UAX #29, less a few deliberate differences.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

namespace racking::text {

// Every boundary, 0 and the length included (none for an empty text). An
// ill-formed part stands like U+FFFD, a symbol of its own.
//
// Differences from UAX #29, each with a test; all of them only add boundaries:
//   a letter and a colon, or a letter and a full stop, break ("Nose:x", "full.Long");
//   letters and digits break ("12g", "H2S");
//   digits and a semicolon break ("2009;2010");
//   connectors break, underscores and the narrow no-break space that French sets
//   before a colon among them ("_crisp_", "pêche : 3").
// The rest agrees case by case with WordBreakTest.txt.
void word_breaks(std::string_view text, std::vector<std::uint32_t>& out);

}  // namespace racking::text
