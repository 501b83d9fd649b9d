// Carries ill-formed UTF-8 through a parser that refuses it: each bad byte travels as a
// private-use character and comes out as it went in.
#pragma once

#include <string>
#include <string_view>

namespace note_cleanup {

bool is_well_formed(std::string_view text) noexcept;
std::string protect_ill_formed(std::string_view text);
std::string restore_ill_formed(std::string_view text);

}  // namespace note_cleanup
