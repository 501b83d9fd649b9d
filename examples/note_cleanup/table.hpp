// A row a note, for a spreadsheet.
#pragma once

#include <string>
#include <string_view>

#include <racking/racking.hpp>

namespace note_cleanup {

// The headings, with their line end.
std::string table_heading();
// Appends one row. A range is two columns of steps, 1 to 5, since "4-5" in one cell would
// become a date in a spreadsheet.
void append_table_row(std::string& out, const racking::Note&, std::string_view id);

}  // namespace note_cleanup
