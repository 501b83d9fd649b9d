// A lexicon as written: the entries of TOML files, each with its place.
#pragma once

#include <cstdint>
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

// Values by key: an entry has a handful, and a search along them beats a tree.
template <class Value>
class Keyed {
 public:
  using Item = std::pair<std::string, Value>;

  auto begin() const { return items_.begin(); }
  auto end() const { return items_.end(); }
  auto begin() { return items_.begin(); }
  auto end() { return items_.end(); }
  auto find(std::string_view key) const {
    auto at = items_.begin();
    while (at != items_.end() && at->first != key) ++at;
    return at;
  }
  bool contains(std::string_view key) const { return find(key) != end(); }
  // The first value of a key stays.
  void emplace(std::string_view key, Value value) {
    if (!contains(key)) items_.emplace_back(std::string(key), std::move(value));
  }

 private:
  std::vector<Item> items_;
};

// One `[[kind]]` table, checked for keys and types but not yet for references. A value
// is found under its key; what is absent is empty.
struct Entry {
  std::string kind;                      // "descriptor", "phrase", …
  Place place;
  bool shorthand = false;                // in a file of abbreviations
  std::vector<Form> forms;               // forms, adjectives, fixed, hints … all in order
  Keyed<Text> texts;
  Keyed<Texts> lists;
  Keyed<std::pair<int, int>> ranges;
  Keyed<double> numbers;                 // booleans are 0 and 1
  Keyed<Place> places;                   // of every key
};

// What a listed word may bear: "-ies" for "y", or "un-".
struct Affix {
  std::string text, replace;
  bool is_prefix = false;
};

struct Source {
  std::vector<std::string> files;
  std::vector<Entry> entries;
  std::vector<std::uint32_t> ordinary;   // hashes of words that are no slip of the pen, sorted
  std::vector<Affix> affixes;
  std::string name = "house";
  std::string version = "0";
};

}  // namespace racking::lexicon
