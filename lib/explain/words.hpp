// The English of explanations. What a rule of the lexicon says of itself is in the lexicon.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "lexicon/compiled.hpp"
#include "racking/vocabulary.hpp"
#include "render/tidy_words.hpp"

namespace racking::explain {

// In quotation marks, on one line, well-formed, and cut if it is very long.
std::string quoted(std::string_view words);
using render::listed;
// First letter up, and a full stop at the end.
std::string sentence(std::string words);

// What a form could mean: "a colour", "a smell or taste".
std::string_view kind_words(lexicon::SenseKind kind);
std::vector<std::string> kinds_words(std::uint32_t kinds);

// "step 4 (firm)", "steps 4 to 5 (firm to gripping)".
std::string range_words(Dimension dimension, Interval range);
std::string steps_words(Interval range);

std::string_view stance_words(Stance stance);   // "in doubt"
std::string_view when_words(When when);         // "with air"
std::string_view frame_words(Frame frame);      // "an aside about food to serve"
std::string_view phase_words(Phase phase);      // "on the nose"
std::string strength_words(Interval strength);  // "light to clear in strength"
std::string state_words(State state);           // "ripe"

// What the words of a cue do where the lexicon does not say: by what it sets and how it looks.
std::string default_because(const lexicon::CueRecord& cue);

}  // namespace racking::explain
