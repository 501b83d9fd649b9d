// Which format an input is in, from its name and how it begins.
#pragma once

#include <string_view>

#include "row_source.hpp"

namespace note_cleanup {

InputFormat guess_format(std::string_view name, std::string_view sample);

}  // namespace note_cleanup
