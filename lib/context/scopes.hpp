// Cues, and how far each reaches.
#pragma once

#include <string_view>

#include "context/workspace.hpp"
#include "match/index.hpp"

namespace racking::context {

// Finds the cues among the mentions and fills `cues`, `reach`, `phases` and `frames`.
// Needs `stops`.
void paint_scopes(std::string_view text, const match::MatchIndex& index, Workspace& work);

// The cue that sets `attribute` for `token`; nullptr if none does.
const lexicon::CueRecord* cue_over(const lexicon::CompiledLexicon& lexicon,
                                   const Workspace& work, Attribute attribute,
                                   std::uint32_t token) noexcept;

}  // namespace racking::context
