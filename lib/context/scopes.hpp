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

// What tells of a wine, for sure; and how many tokens off it is looked for.
inline constexpr std::uint32_t told_kinds =
    kind_bit(lexicon::SenseKind::descriptor) | kind_bit(lexicon::SenseKind::phrase);
inline constexpr std::uint32_t look_around = 80;
// Whether what begins at `token` speaks of nothing but a wine.
bool is_of_wine_alone(const Workspace& work, std::uint32_t token) noexcept;
// Whether the cue that `reach` (not 0) names heads a section.
bool is_heading_reach(const lexicon::CompiledLexicon& lexicon, const Workspace& work,
                      std::uint32_t reach) noexcept;

}  // namespace racking::context
