// Where a text speaks of more than one wine.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "context/workspace.hpp"
#include "match/index.hpp"

namespace racking::context {

// Where each wine of the text begins, if each is told of in its own right; else nothing. Labels
// that stand alone ("Wine two:", "#2", "Barolo 2016") are tried first, then those of running text
// ("the first was … the second …"). After the senses are decided. Linear in the tokens.
void find_wines(const match::MatchIndex& index, std::string_view text, const Workspace& work,
                std::vector<std::uint32_t>& begins);

}  // namespace racking::context
