// Finds every form of the lexicon, leftmost and longest.
#pragma once

#include <string_view>
#include <vector>

#include "lexicon/compiled.hpp"
#include "match/index.hpp"
#include "match/mention.hpp"
#include "match/spelling.hpp"
#include "text/tokens.hpp"

namespace racking::match {

// Finds the word of every token (a possessive 's is looked past) and all leftmost-longest
// mentions. None crosses the start of a sentence or a line. With `spelling`, slips are read
// as what was meant, and their tokens listed in `respelled`. `mention_at` has, by token, one
// more than the index of the mention over it, or 0.
void find_mentions(const text::TokenizedText& text, const MatchIndex& index,
                   std::vector<KnownWord>& known, std::vector<Mention>& mentions,
                   std::vector<std::uint32_t>& mention_at,
                   const Spelling* spelling = nullptr,
                   std::vector<std::uint32_t>* respelled = nullptr);

// The node that tokens [first, last) followed by [more_first, more_last) lead to; 0 if none.
lexicon::NodeId walk(const MatchIndex& index, const std::vector<KnownWord>& known,
                     std::uint32_t first, std::uint32_t last, std::uint32_t more_first = 0,
                     std::uint32_t more_last = 0);

}  // namespace racking::match
