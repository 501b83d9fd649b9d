// Items that share a word: "red and black cherries", "dried fig and apricot".
#pragma once

#include <cstdint>
#include <vector>

#include "lexicon/compiled.hpp"
#include "match/index.hpp"
#include "match/mention.hpp"
#include "text/tokens.hpp"

namespace racking::match {

// Expands coordinated items: each gets a mention of its own whose shared word stands
// elsewhere. `mentions` stay in text order. Which words join is the lexicon's to say: stop
// cues of class conjunction; which modifiers are shared forward: cues that set a state.
// `mention_at` (by token: index + 1) must be of `mentions`; it is stale if this returns true.
bool coordinate(const text::TokenizedText& text, const MatchIndex& index,
                const std::vector<KnownWord>& known, std::vector<Mention>& mentions,
                const std::vector<std::uint32_t>& mention_at);

}  // namespace racking::match
