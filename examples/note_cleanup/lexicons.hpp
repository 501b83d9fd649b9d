// The lexicon that the command line asks for, and the check of one.
#pragma once

#include <string>
#include <vector>

#include <racking/racking.hpp>

namespace note_cleanup {

// A folder with a lexicon.toml is a whole lexicon; any other is laid on `base`.
// Throws racking::Error with every problem.
racking::Lexicon lexicon_with(const racking::Lexicon& base, const std::string& folder);
racking::Lexicon load_lexicons(const std::vector<std::string>& folders);

// What is wrong in a folder and its examples, each with its place; empty if nothing is.
// `about` receives a line on what it holds.
std::vector<racking::Problem> check_lexicon(const std::vector<std::string>& below,
                                            const std::string& folder, std::string& about);

}  // namespace note_cleanup
