#include "lexicon/ordinary.hpp"

#include <algorithm>
#include <string>

namespace racking::lexicon {
namespace {

constexpr std::size_t shortest_stem = 3;     // "run" in "runs"
constexpr std::size_t shortest_after_prefix = 4;

bool is_vowel(char c) { return std::string_view("aeiou").find(c) != std::string_view::npos; }

}  // namespace

bool OrdinaryWords::listed(std::string_view word) const noexcept {
  return std::binary_search(hashes_.begin(), hashes_.end(), ordinary_hash(word));
}

bool OrdinaryWords::has(std::string_view word, int affixes) const {
  if (listed(word)) return true;
  return affixes > 0 && (without_ending(word, affixes - 1) || without_prefix(word, affixes - 1));
}

bool OrdinaryWords::without_ending(std::string_view word, int affixes) const {
  const auto ends_in = [&](const AffixRecord& affix) {
    if (affix.is_prefix != 0 || affix.text.length == 0) return false;
    const std::string_view ending = text(affix.text);
    return ending.back() == word.back() && word.ends_with(ending);   // most differ at once
  };
  std::size_t longest = 0;
  for (const AffixRecord& affix : affixes_)
    if (affix.text.length > longest && ends_in(affix)) longest = affix.text.length;
  if (longest == 0) return false;
  for (const AffixRecord& affix : affixes_) {
    if (affix.text.length != longest || !ends_in(affix)) continue;
    std::string stem(word.substr(0, word.size() - longest));
    stem += text(affix.replace);
    // "pep" makes no "peper", but "wet" makes "wetly".
    const bool bare = affix.replace.length == 0 && is_vowel(text(affix.text).front());
    if (stem.size() >= shortest_stem + (bare ? 1 : 0) && stem != word && has(stem, affixes))
      return true;
  }
  return false;
}

bool OrdinaryWords::without_prefix(std::string_view word, int affixes) const {
  for (const AffixRecord& affix : affixes_)
    if (affix.is_prefix != 0 && word.starts_with(text(affix.text)) &&
        word.size() >= affix.text.length + shortest_after_prefix &&
        has(word.substr(affix.text.length), affixes))
      return true;
  return false;
}

}  // namespace racking::lexicon
