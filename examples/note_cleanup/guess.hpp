// Which format an input is in, from its name and how it begins.
#pragma once

#include <cstddef>
#include <string_view>

#include "row_source.hpp"

namespace note_cleanup {

// How much of an input is looked at; a sample as long as this is cut from more.
inline constexpr std::size_t sample_size = std::size_t{64} << 10;

// A named column makes a table of what has it among its headings; throws UsageError if nothing
// shows a table and a column is named.
InputFormat guess_format(std::string_view name, std::string_view sample, const RowOptions& asked);

}  // namespace note_cleanup
