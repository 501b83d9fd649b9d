// What a text is as a whole: of which language, of one wine or several, or of none.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "context/workspace.hpp"
#include "match/index.hpp"

namespace racking::context {

// Reads the tells of all words. To be called once the words are known.
void gather_tells(const match::MatchIndex& index, Workspace& work);

// "en", where nothing speaks for another; "und" where two others are as likely.
std::string_view recognise_language(const Workspace& work) noexcept;
// Leaves of the mentions names, and the words that `language` shares with English notes.
void keep_shared(const match::MatchIndex& index, std::string_view language, Workspace& work);

// True if no wine is spoken of: then every frame is set to `other`. After the structure is known.
bool set_aside_no_note(const lexicon::CompiledLexicon& lexicon, Workspace& work);

// Where each wine of the text begins, if it speaks of more than one; else nothing.
void find_wines(const match::MatchIndex& index, std::string_view text, const Workspace& work,
                std::vector<std::uint32_t>& begins);

}  // namespace racking::context
