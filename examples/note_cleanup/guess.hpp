// Which format an input is in, from its name and how it begins.
#pragma once

#include <cstddef>
#include <string_view>

#include "row_source.hpp"

namespace note_cleanup {

// How much of an input is looked at; a sample as long as this is cut from more.
inline constexpr std::size_t sample_size = std::size_t{64} << 10;

InputFormat guess_format(std::string_view name, std::string_view sample);

}  // namespace note_cleanup
