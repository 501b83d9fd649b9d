// The words of tidy text: each chosen so that it reads well and reads back.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "racking/note.hpp"
#include "racking/vocabulary.hpp"

namespace racking::render {

// The adjective for an interval of steps, "firm to gripping". Where the trade's use of a
// house word is wider than its step ("full" is 4 to 5 to most), the words say which:
// "full but not dense". lexicon/scales/tidy-words.toml holds those that tasters do not
// write themselves.
std::string level_words(Dimension, Interval);

// With its noun and article: "firm to gripping tannins", "a long finish", "dry".
std::string level_phrase(Dimension, const std::string& adjectives);

// "deep", for a depth of colour.
std::string_view depth_words(Interval);

// What stands before an aroma of that strength, "a touch of"; empty for none. Dominance
// is said after it.
std::string_view strength_words(Interval);
bool is_dominant(Interval);

// "a slight deposit", for what is seen beside hue and depth; empty where the value is not
// one of ours.
std::string_view seen_words(SightPart, std::string_view value);

// The measured thing, "total acidity".
std::string_view quantity_words(QuantityKind);

// "a", "b" and "c" as "a, b and c"; `conjunction` is "and" or "or".
std::string listed(const std::vector<std::string>& items, std::string_view conjunction);
// Phrases of structure side by side, so that no adjective reaches the next noun.
std::string set_apart(const std::vector<std::string>& phrases);
// By its ending, as English makes adjectives; for one word in lower case.
bool looks_adjective(std::string_view word);
// The article before a word: "an open nose".
std::string with_article(const std::string& words);
// First letter up; a sentence ends with one full stop.
std::string as_sentence(std::string words);

}  // namespace racking::render
