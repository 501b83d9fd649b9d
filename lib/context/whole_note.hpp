// What a text is as a whole: of which language, or of no wine at all.
#pragma once

#include <cstdint>
#include <string>
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
bool set_aside_no_note(const match::MatchIndex& index, Workspace& work);

// Why it was set aside, in plain words, for `set_aside_no_note`.
std::string why_no_note(const match::MatchIndex& index, std::string_view text, const Workspace& work);

}  // namespace racking::context
