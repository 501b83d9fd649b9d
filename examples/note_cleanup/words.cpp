#include "words.hpp"

#include <algorithm>
#include <array>
#include <charconv>

namespace note_cleanup {

using racking::Note;
using racking::Stance;

std::string join(const std::vector<std::string>& parts, const char* separator) {
  std::string joined;
  for (const auto& part : parts) {
    if (!joined.empty()) joined += separator;
    joined += part;
  }
  return joined;
}

std::vector<racking::Descriptor> families_found(const Note& note) {
  std::vector<racking::Descriptor> found;
  for (const auto& aroma : note.aromas()) {
    const racking::Descriptor family = aroma.descriptor.family();
    if (aroma.stance == Stance::denied || !family) continue;
    if (std::find(found.begin(), found.end(), family) == found.end()) found.push_back(family);
  }
  std::sort(found.begin(), found.end(), [](auto a, auto b) { return a.index() < b.index(); });
  return found;
}

std::vector<std::string> aromas_found(const Note& note) {
  std::vector<std::string> found;
  for (const auto& aroma : note.aromas()) {
    std::string label(aroma.descriptor.label());
    if (aroma.stance == Stance::hedged) label += '?';
    if (aroma.stance == Stance::denied) label.insert(0, "no ");
    if (std::find(found.begin(), found.end(), label) == found.end()) found.push_back(label);
  }
  return found;
}

std::string number_words(double value) {
  std::array<char, 32> text;
  const auto end = std::to_chars(text.data(), text.data() + text.size(), value).ptr;
  return std::string(text.data(), end);
}

std::string quantity_words(const racking::Quantity& quantity, bool unit) {
  std::string words;
  if (quantity.value)
    words = number_words(*quantity.value);
  else if (quantity.low && quantity.high)
    words = number_words(*quantity.low) + "–" + number_words(*quantity.high);
  else if (quantity.low)
    words = "at least " + number_words(*quantity.low);
  else if (quantity.high)
    words = "at most " + number_words(*quantity.high);
  if (unit && quantity.out_of) words += " of " + number_words(*quantity.out_of);
  if (unit && !quantity.unit.empty()) {
    if (!quantity.unit.starts_with('%')) words += ' ';
    words += quantity.unit;
  }
  if (unit && !quantity.of.empty()) words += " " + quantity.of;
  return words;
}

std::string alcohol_words(const Note& note) {
  for (const auto& quantity : note.quantities()) {
    if (quantity.kind == racking::QuantityKind::alcohol &&
        quantity.frame != racking::Frame::other) {
      return quantity_words(quantity, false);
    }
  }
  return {};
}

namespace {

std::string sight_word(const racking::Sight& sight) {
  std::string word;
  if (sight.part == racking::SightPart::rim) word = "rim ";
  if (sight.hue) {
    word += name_of(*sight.hue);
  } else if (sight.part == racking::SightPart::depth && sight.range) {
    constexpr std::array<const char*, 5> depths{"watery", "pale", "mid-depth", "deep", "opaque"};
    const auto depth = [&](std::uint8_t step) {
      return depths.at(static_cast<std::size_t>(step - 1));
    };
    word += depth(sight.range->low);
    if (sight.range->width() > 1) word += std::string(" to ") + depth(sight.range->high);
  } else {
    word += sight.value;
  }
  if (sight.stance == Stance::hedged) word += '?';
  if (sight.stance == Stance::denied) word.insert(0, "not ");
  return word;
}

}  // namespace

std::string sight_words(const Note& note) {
  std::vector<std::string> words;
  for (const auto& sight : note.sight()) {
    std::string word = sight_word(sight);
    if (!word.empty() && std::find(words.begin(), words.end(), word) == words.end())
      words.push_back(std::move(word));
  }
  return join(words, "; ");
}

std::string condition_words(const Note& note) {
  std::vector<std::string> faults;
  const auto list = [&](Stance stance, const char* before) {
    for (const auto& fault : note.condition().faults) {
      if (fault.stance == stance) faults.push_back(before + std::string(name_of(fault.fault)));
    }
  };
  list(Stance::stated, "");
  list(Stance::hedged, "perhaps ");
  list(Stance::denied, "no ");
  std::string words(name_of(note.condition().verdict));
  if (!faults.empty()) words += ": " + join(faults, ", ");
  return words;
}

std::string maturity_words(const Note& note) {
  const auto& stage = note.maturity().stage;
  if (!stage) return {};
  std::string words(name_of(stage->first));
  if (stage->second != stage->first) words += " to " + std::string(name_of(stage->second));
  return words;
}

}  // namespace note_cleanup
