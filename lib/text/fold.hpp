// Keys for matching: NFC, full case folding, typographic marks made plain.
#pragma once

#include <string>
#include <string_view>

namespace racking::text {

// Case-folded NFC with accents kept and quotes, dashes and spaces made plain:
// "Rosé" → "rosé".
std::string fold_exact(std::string_view word);

// The same with combining marks and ligatures taken apart: "Œufs brûlés" → "oeufs brules".
std::string fold(std::string_view word);

// True if the text is in NFC (and well-formed).
bool is_nfc(std::string_view text);

}  // namespace racking::text
