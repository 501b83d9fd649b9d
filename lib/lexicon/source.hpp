// A lexicon as written: the entries of TOML files, each with its place.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "racking/error.hpp"
#include "racking/vocabulary.hpp"

namespace racking::lexicon {

struct Place {
  std::uint32_t file = 0;                // into Source::files
  std::uint32_t line = 0, column = 0;
};

struct Text {                            // a string value and where it stands
  std::string value;
  Place place;
};
using Texts = std::vector<Text>;

struct Form {
  std::string text;
  Place place;
  enum class Kind : std::uint8_t { noun, adjective, fixed } kind = Kind::fixed;
};

// One `[[kind]]` table, checked for keys and types but not yet for references. A value
// is found under its key; what is absent is empty.
struct Entry {
  std::string kind;                      // "descriptor", "phrase", …
  Place place;
  bool shorthand = false;                // in a file of abbreviations
  std::vector<Form> forms;               // forms, adjectives, fixed, hints … all in order
  std::map<std::string, Text, std::less<>> texts;
  std::map<std::string, Texts, std::less<>> lists;
  std::map<std::string, std::pair<int, int>, std::less<>> ranges;
  std::map<std::string, double, std::less<>> numbers;   // booleans are 0 and 1
  std::map<std::string, Place, std::less<>> places;     // of every key
};

// What a listed word may bear: "-ies" for "y", or "un-".
struct Affix {
  std::string text, replace;
  bool is_prefix = false;
};

struct Source {
  std::vector<std::string> files;
  std::vector<Entry> entries;
  std::vector<std::string> ordinary;     // words that are no slip of the pen
  std::vector<Affix> affixes;
  std::string name = "house";
  std::string version = "0";
};

}  // namespace racking::lexicon
