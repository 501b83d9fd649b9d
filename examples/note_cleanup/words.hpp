// Short phrases for what a note says; the table and the page share them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include <racking/racking.hpp>

namespace note_cleanup {

inline constexpr std::array<racking::Dimension, racking::dimension_count> all_dimensions{
    racking::Dimension::acidity,   racking::Dimension::body,      racking::Dimension::tannin,
    racking::Dimension::sweetness, racking::Dimension::alcohol,   racking::Dimension::sparkle,
    racking::Dimension::finish,    racking::Dimension::expression};

std::string join(const std::vector<std::string>& parts, const char* separator);

// Families found (not denied), each once, in the order of the lexicon.
std::vector<racking::Descriptor> families_found(const racking::Note&);
// Aroma labels found, each once; "?" after one that is hedged, "no …" for one denied.
std::vector<std::string> aromas_found(const racking::Note&);
// "garnet; rim brick; pale; hazy"
std::string sight_words(const racking::Note&);
// "not stated", "sound", "suspect: perhaps cork taint, no oxidation"
std::string condition_words(const racking::Note&);
// "mid-life", "early to mid-life"; empty if nothing speaks.
std::string maturity_words(const racking::Note&);
// "13.5", "13–14" with the unit if `unit`; empty if not stated.
std::string quantity_words(const racking::Quantity&, bool unit);
std::string alcohol_words(const racking::Note&);
std::string number_words(double value);

}  // namespace note_cleanup
