// The ledger: one self-contained HTML page of notes with their readings marked in place.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include <racking/racking.hpp>

#include "output.hpp"
#include "tally.hpp"

namespace note_cleanup {

inline constexpr std::size_t most_notes_shown = 2000;
inline constexpr std::size_t largest_page = std::size_t{128} << 20;  // bytes of notes shown

// Text in an element or a quoted attribute. Ill-formed UTF-8 and control characters become
// U+FFFD.
void append_escaped(std::string& out, std::string_view text);

// One note; `number` is its place on the page, from 1.
std::string page_entry(const racking::Note&, std::string_view id, std::size_t number);

// The whole page: what the notes have in common, then the entries.
void write_page(Output&, const Tally&, const racking::Lexicon&,
                const std::vector<std::string>& inputs, const std::vector<std::string>& entries);

}  // namespace note_cleanup
