#include "render/tidy_words.hpp"

#include <array>

namespace racking::render {

namespace {

// Single steps by dimension; empty: the house's own label serves.
constexpr std::array<std::array<std::string_view, 5>, dimension_count> single_steps{{
    {"", "mild but not slack", "", "", "very sharp"},
    {"very slender", "light but not slender", "", "full but not dense", "very dense"},
    {"very faint", "light but not faint", "moderate", "", "fiercely gripping"},
    {"", "dry but not very dry", "off-dry", "", ""},
    {"very slight", "modest but not slight", "moderate", "warming", "very heady"},
    {"", "prickling", "", "lively but not vigorous", "very vigorous"},
    {"very short", "short but not clipped", "medium", "long but not enduring", "very long"},
    {"very faint", "reserved but not faint", "", "", "very powerful"},
}};

// The lower or upper end of an interval. "Touch of sweetness" is no adjective; "a fair …"
// is how one says "rather a".
std::string_view end_label(Dimension dimension, int step, bool lower) {
  if (dimension == Dimension::sweetness && step == 3) return "off-dry";
  if (dimension == Dimension::finish && step == 3 && lower) return "medium";
  return step_label(dimension, step);
}

bool is_vowel(char c) { return std::string_view("aeiouAEIOU").find(c) != std::string_view::npos; }

}  // namespace

std::string level_words(Dimension dimension, Interval range) {
  if (range.low == range.high) {
    const std::string_view words =
        single_steps[static_cast<std::size_t>(dimension)][static_cast<std::size_t>(range.low - 1)];
    return std::string(words.empty() ? step_label(dimension, range.low) : words);
  }
  // "Medium to full body" is wider to most tasters.
  if (dimension == Dimension::body && range == Interval{3, 4}) return "between medium and full";
  if (dimension == Dimension::sweetness && range == Interval{1, 2}) return "dry";
  if (dimension == Dimension::sweetness && range == Interval{4, 5}) return "sweet";
  std::string words(end_label(dimension, range.low, true));
  words += " to ";
  words += end_label(dimension, range.high, false);
  return words;
}

std::string level_phrase(Dimension dimension, const std::string& adjectives) {
  switch (dimension) {
    case Dimension::acidity: return adjectives + " acidity";
    case Dimension::tannin: return adjectives + " tannins";
    case Dimension::alcohol: return adjectives + " alcohol";
    case Dimension::body:
      if (const auto at = adjectives.find("between "); at != std::string::npos)
        return with_article(adjectives.substr(0, at == 0 ? 0 : at - 2) + (at == 0 ? "" : " ") +
                            "body " + adjectives.substr(at));
      return with_article(adjectives + " body");
    case Dimension::sparkle: return with_article(adjectives + " sparkle");
    case Dimension::finish: return with_article(adjectives + " finish");
    case Dimension::expression: return with_article(adjectives + " nose");
    case Dimension::sweetness: break;
  }
  return adjectives;
}

std::string_view depth_words(Interval range) {
  const int sum = range.low + range.high;
  if (range == Interval{1, 1}) return "watery";
  if (sum <= 3) return "very pale";
  if (sum == 4) return "pale";
  if (sum == 5) return "pale to medium";
  if (sum == 6) return "medium";
  if (sum == 7) return "medium to deep";
  if (sum == 8) return "deep";
  return sum == 9 ? "very deep" : "opaque";
}

bool is_dominant(Interval strength) { return strength.low == 5; }

std::string_view strength_words(Interval strength) {
  if (is_dominant(strength)) return {};
  if (strength.high == 1) return "a trace of";
  if (strength.high == 2) return "a touch of";
  if (strength.low >= 4) return "marked";
  if (strength.low == 3) return "distinct";
  return strength.high <= 3 ? "some" : "";
}

std::string_view seen_words(SightPart part, std::string_view value) {
  struct Words {
    SightPart part;
    std::string_view value, words;
  };
  constexpr std::array<Words, 20> all{{
      {SightPart::clarity, "brilliant", "brilliant clarity"},
      {SightPart::clarity, "clear", "good clarity"},
      {SightPart::clarity, "hazy", "haze in the glass"},
      {SightPart::clarity, "cloudy", "a cloudy appearance"},
      {SightPart::deposit, "none", "no deposit"},
      {SightPart::deposit, "slight", "a slight deposit"},
      {SightPart::deposit, "present", "a deposit"},
      {SightPart::deposit, "heavy", "a heavy deposit"},
      {SightPart::deposit, "crystals", "tartrate crystals"},
      {SightPart::bubbles, "fine", "fine bubbles"},
      {SightPart::bubbles, "medium", "medium-sized bubbles"},
      {SightPart::bubbles, "coarse", "coarse bubbles"},
      {SightPart::bubbles, "persistent", "persistent bubbles"},
      {SightPart::bubbles, "fleeting", "fleeting bubbles"},
      {SightPart::bubbles, "few", "the odd bubble"},
      {SightPart::bubbles, "present", "a collar of foam"},
      {SightPart::tears, "slow", "slow tears"},
      {SightPart::tears, "quick", "quick tears"},
      {SightPart::tears, "none", "no tears"},
      {SightPart::tears, "present", "tears on the glass"},
  }};
  for (const Words& one : all)
    if (one.part == part && one.value == value) return one.words;
  return {};
}

std::string_view quantity_words(QuantityKind kind) {
  switch (kind) {
    case QuantityKind::rim_width: return "rim";
    case QuantityKind::share: return {};
    default: return name_of(kind);
  }
}

std::string listed(const std::vector<std::string>& items, std::string_view conjunction) {
  std::string out;
  for (std::size_t i = 0; i < items.size(); ++i) {
    if (i > 0 && i + 1 == items.size())
      out.append(" ").append(conjunction).append(" ");
    else if (i > 0)
      out += ", ";
    out += items[i];
  }
  return out;
}

std::string set_apart(const std::vector<std::string>& phrases) {
  bool commas = false;
  for (const std::string& phrase : phrases) commas = commas || phrase.find(',') != phrase.npos;
  std::string out;
  for (std::size_t i = 0; i < phrases.size(); ++i) {
    if (i > 0) {
      const bool hedged = phrases[i].rfind("perhaps ", 0) == 0;
      if (phrases.size() == 2 && !hedged)
        out += " with ";
      else if (commas)
        out += "; ";
      else
        out += i + 1 == phrases.size() ? ", and " : ", ";
    }
    out += phrases[i];
  }
  return out;
}

bool looks_adjective(std::string_view word) {
  constexpr std::array<std::string_view, 10> nouns{"ity", "ony",  "ness", "ance", "ence",
                                                   "ion", "ment", "phy", "acy",  "gy"};
  constexpr std::array<std::string_view, 15> adjectives{
      "y",   "ed",   "ful",  "ent", "ant", "ic",   "ive", "al",
      "ous", "ing",  "able", "ible", "en", "less", "id"};
  const auto ends_as = [&](std::string_view ending) { return word.ends_with(ending); };
  for (const std::string_view ending : nouns)
    if (ends_as(ending)) return false;
  for (const std::string_view ending : adjectives)
    if (ends_as(ending)) return true;
  return false;
}

std::string with_article(const std::string& words) {
  std::string out(!words.empty() && is_vowel(words.front()) ? "an " : "a ");
  return out.append(words);
}

std::string as_sentence(std::string words) {
  words.erase(words.find_last_not_of(' ') + 1);
  if (words.empty()) return words;
  char& first = words.front();
  // "pH" keeps its letter.
  if (first >= 'a' && first <= 'z' && words.compare(0, 2, "pH") != 0)
    first = static_cast<char>(first - 'a' + 'A');
  const std::string_view ends = ".!?";
  if (ends.find(words.back()) == std::string_view::npos) words += '.';
  return words;
}

}  // namespace racking::render
