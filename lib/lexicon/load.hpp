// TOML files into a Source, every problem of form reported.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "lexicon/source.hpp"

namespace racking::lexicon {

// Parses one file's text into `source`, appending what is wrong to `problems`: the
// first syntax error, or else every unknown kind, unknown or missing key, wrong type,
// value outside a closed list, and text that is not NFC. Never throws for content.
void load_text(std::string_view toml, const std::string& file, Source& source,
               std::vector<Problem>& problems);

// A list of ordinary words, one a line, in lower-case letters a–z: what is spelled so is no
// slip. "-ies y" is an ending with what stands for it in a listed word (or nothing), "un-" a
// prefix; '#' starts a comment line. Appends a problem for each line that is none of these.
void load_words(std::string_view list, const std::string& file, Source& source,
                std::vector<Problem>& problems);

// Every `.toml` and `.words` file below `folder`, in path order, parsed by two threads where there
// are many. `folder/lexicon.toml`, if there, gives name and version. Throws Error (lexicon_unreadable) if the folder cannot be read.
Source load_folder(const std::string& folder, std::vector<Problem>& problems);

}  // namespace racking::lexicon
