// Keys for matching: NFC, full case folding, typographic marks made plain.
#pragma once

#include <string>
#include <string_view>

namespace racking::text {

// Case-folded NFC with accents kept, quotes, dashes, spaces and full-width forms
// made plain, and what shows nothing (soft hyphens, joiners) left out:
// "Rosé" → "rosé". Ill-formed parts become U+FFFD. Folding twice changes nothing.
std::string fold_exact(std::string_view word);

// The same with combining marks and ligatures taken apart: "Œufs brûlés" → "oeufs brules".
// Only marks on letters and digits go, and only those of no one script.
std::string fold(std::string_view word);

// The text in NFC, its case kept; ill-formed parts become U+FFFD.
std::string to_nfc(std::string_view text);

// True if the text is in NFC (and well-formed).
bool is_nfc(std::string_view text);

}  // namespace racking::text
