// Forms as sequences of words.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "text/tokens.hpp"

namespace racking::lexicon {

using Words = std::vector<std::string>;  // exact keys: accents kept

struct Sequence {
  Words words;
  bool ends_in_word = false;             // not in a number or a mark
};

// `scratch` is reused from form to form.
Sequence sequence_of(std::string_view form, text::TokenizedText& scratch);

std::string joined(std::span<const std::string> words);   // spaces between
Words split(std::string_view joined);

}  // namespace racking::lexicon
