// Word breaks against the standard: WordBreakTest.txt of Unicode 15.0 (Debian
// unicode-data), case by case, less data/word_break_differences.txt; and against
// ICU's word iterator on random text.
#include "text/word_breaks.hpp"

#include <boost/test/unit_test.hpp>

#include <cstdint>
#include <fstream>
#include <map>
#include <memory>
#include <random>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include <unicode/brkiter.h>
#include <unicode/uchar.h>
#include <unicode/utext.h>

#include "text/utf8.hpp"
#include "unicode_data.hpp"

namespace {

using Breaks = std::vector<std::uint32_t>;

struct Case {
  std::string text;
  Breaks breaks;
  std::string line;
};

// Reads "÷ 0061 × 0308 ÷".
Case read_case(const std::string& line) {
  Case result;
  result.line = line;
  std::istringstream words(line);
  for (std::string word; words >> word;) {
    if (word == "÷") {
      result.breaks.push_back(static_cast<std::uint32_t>(result.text.size()));
    } else if (word != "×") {
      racking::text::append(result.text, static_cast<char32_t>(std::stoul(word, nullptr, 16)));
    }
  }
  return result;
}

std::vector<Case> standard_cases() {
  std::ifstream file(racking::tests::unicode_data("auxiliary/WordBreakTest.txt"));
  std::vector<Case> cases;
  for (std::string line; std::getline(file, line);) {
    line.resize(std::min(line.find('#'), line.size()));
    if (line.find_first_not_of(" \t\r") != std::string::npos) cases.push_back(read_case(line));
  }
  return cases;
}

struct Differences {
  std::map<std::string, std::string> reasons;
  std::set<std::string> used;
  std::map<std::string, Case> cases;   // by text
};

Differences read_differences() {
  std::ifstream file(racking::tests::test_data("word_break_differences.txt"));
  Differences result;
  for (std::string line; std::getline(file, line);) {
    if (line.empty() || line[0] == '#') continue;
    if (line.starts_with("reason ")) {
      const std::size_t space = line.find(' ', 7);
      BOOST_REQUIRE_NE(space, std::string::npos);
      result.reasons[line.substr(7, space - 7)] = line.substr(space + 1);
      continue;
    }
    const std::size_t bar = line.find('|');
    BOOST_REQUIRE_MESSAGE(bar != std::string::npos, line);
    std::istringstream names(line.substr(0, line.find_last_not_of(' ', bar - 1) + 1));
    for (std::string name; std::getline(names, name, ',');) result.used.insert(name);
    Case one = read_case(line.substr(bar + 1));
    BOOST_TEST(result.cases.emplace(one.text, one).second, "twice: " << line);
  }
  return result;
}

Breaks ours(const std::string& text) {
  Breaks result;
  racking::text::word_breaks(text, result);
  return result;
}

class IcuWords {
 public:
  IcuWords() {
    UErrorCode status = U_ZERO_ERROR;
    words_.reset(icu::BreakIterator::createWordInstance(icu::Locale::getRoot(), status));
    BOOST_REQUIRE(U_SUCCESS(status));
  }

  Breaks operator()(const std::string& text) {
    UErrorCode status = U_ZERO_ERROR;
    UText view = UTEXT_INITIALIZER;
    utext_openUTF8(&view, text.data(), static_cast<std::int64_t>(text.size()), &status);
    words_->setText(&view, status);
    BOOST_REQUIRE(U_SUCCESS(status));
    Breaks result;
    if (!text.empty()) {
      for (std::int32_t at = words_->first(); at != icu::BreakIterator::DONE; at = words_->next()) {
        result.push_back(static_cast<std::uint32_t>(at));
      }
    }
    utext_close(&view);
    return result;
  }

 private:
  std::unique_ptr<icu::BreakIterator> words_;
};

std::int32_t break_class(char32_t c) {
  return u_getIntPropertyValue(static_cast<UChar32>(c), UCHAR_WORD_BREAK);
}
bool is_letter(char32_t c) {
  return break_class(c) == U_WB_ALETTER || break_class(c) == U_WB_HEBREW_LETTER;
}
// What our rules set apart wherever it stands between letters, digits or its like.
bool is_set_apart(char32_t c) {
  static const std::u32string colons = U":\uFE13\uFE55\uFF1A";
  static const std::u32string semicolons = U";\u037E\uFE14\uFE54\uFF1B";
  return break_class(c) == U_WB_EXTENDNUMLET || colons.find(c) != std::u32string::npos ||
         semicolons.find(c) != std::u32string::npos;
}
bool is_full_stop(char32_t c) {
  static const std::u32string stops = U".\u2024\uFE52\uFF0E";
  return stops.find(c) != std::u32string::npos;
}

struct Neighbours {
  char32_t before = 0;       // attached marks aside
  char32_t before_that = 0;
  char32_t after = 0;
  char32_t after_that = 0;
  bool at_character = false;   // no attached mark stands here
  bool at_emoji_join = false;  // a joiner and a pictograph meet here (WB3c)
};

bool is_mark(char32_t c) {
  const std::int32_t what = break_class(c);
  return what == U_WB_EXTEND || what == U_WB_FORMAT || what == U_WB_ZWJ;
}

Neighbours neighbours(const std::string& text, std::uint32_t place) {
  std::vector<char32_t> before;
  std::vector<char32_t> after;
  Neighbours result;
  char32_t previous = 0;
  for (std::uint32_t at = 0; at < text.size();) {
    const racking::text::Decoded decoded = racking::text::decode(text, at);
    if (at == place) {
      result.at_character = !is_mark(decoded.code_point);
      result.at_emoji_join = previous == 0x200D &&
          u_hasBinaryProperty(static_cast<UChar32>(decoded.code_point), UCHAR_EXTENDED_PICTOGRAPHIC);
    }
    previous = decoded.code_point;
    if (!is_mark(decoded.code_point)) (at < place ? before : after).push_back(decoded.code_point);
    at += decoded.length;
  }
  if (!before.empty()) result.before = before.back();
  if (before.size() > 1) result.before_that = before[before.size() - 2];
  if (!after.empty()) result.after = after[0];
  if (after.size() > 1) result.after_that = after[1];
  return result;
}

bool letter_meets_digit(const Neighbours& n) {
  const bool digit_before = break_class(n.before) == U_WB_NUMERIC;
  const bool digit_after = break_class(n.after) == U_WB_NUMERIC;
  return (is_letter(n.before) && digit_after) || (digit_before && is_letter(n.after));
}

bool is_deliberate(const Neighbours& n) {
  return letter_meets_digit(n) || is_set_apart(n.before) || is_set_apart(n.after) ||
         (is_full_stop(n.after) && is_letter(n.before) && is_letter(n.after_that)) ||
         (is_full_stop(n.before) && is_letter(n.before_that) && is_letter(n.after));
}

// Scripts that ICU cuts with a dictionary are left out: Thai, Han, Kana.
const std::u32string& alphabet() {
  static const std::u32string characters =
      U"aabcdeeghinorstuzABELMNZ  \t\n\r0123456789.,;:'\"-_+/%()!?"
      U"\u00E9\u00E8\u00FC\u00DF\u0153\u00C9\u00B7\u00BD\u00A0\u00AD\u00B0\u00BA\u0131"
      U"\u0301\u0308\u0327\u200D\u200B\u200C\u200E\uFEFF\u2060\u202F\u2003\u2028\u0085\u000B"
      U"\u2018\u2019\u201C\u201D\u2013\u2010\u2026\u2024\uFF0E\uFF07\uFF1A\uFF1B\u2044\u2027"
      U"\u05D0\u05D1\u05F3\u05F4\u03B1\u0391\u0436\u0416\u0661\u0967\uFF11\u0628\u064B\u066C"
      U"\U0001F377\U0001F347\u2764\uFE0F\U0001F44D\U0001F3FD\U0001F469\U0001F1EB\U0001F1F7\u24C2\u20E3";
  return characters;
}

std::string random_text(std::mt19937_64& random, const std::u32string& from) {
  std::string text;
  const std::size_t length = random() % 24;
  for (std::size_t at = 0; at < length; ++at) racking::text::append(text, from[random() % from.size()]);
  return text;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(word_break_conformance)

BOOST_AUTO_TEST_CASE(every_case_of_the_standard_agrees_or_is_listed) {
  const std::vector<Case> standard = standard_cases();
  BOOST_REQUIRE_GE(standard.size(), 1823U);
  const Differences differences = read_differences();
  std::size_t differing = 0;
  for (const Case& one : standard) {
    const auto listed = differences.cases.find(one.text);
    if (listed == differences.cases.end()) {
      BOOST_TEST(ours(one.text) == one.breaks, "differs, and is not listed: " << one.line);
    } else {
      ++differing;
      BOOST_TEST(ours(one.text) == listed->second.breaks, "not as listed: " << listed->second.line);
      BOOST_TEST(listed->second.breaks != one.breaks, "does not differ: " << listed->second.line);
    }
  }
  BOOST_TEST_MESSAGE(standard.size() << " cases, of which " << differing << " differ on purpose");
}

BOOST_AUTO_TEST_CASE(every_listed_difference_differs_and_has_a_reason) {
  std::set<std::string> standard;
  for (const Case& one : standard_cases()) standard.insert(one.text);
  const Differences differences = read_differences();
  BOOST_REQUIRE(!differences.cases.empty());
  IcuWords icu;
  for (const auto& [text, listed] : differences.cases) {
    if (standard.contains(text)) continue;
    BOOST_TEST(ours(text) == listed.breaks, "not as listed: " << listed.line);
    BOOST_TEST(icu(text) != listed.breaks, "does not differ: " << listed.line);
  }
  for (const std::string& name : differences.used) {
    BOOST_TEST(differences.reasons.contains(name), "no such reason: " << name);
  }
  for (const auto& [name, reason] : differences.reasons) {
    BOOST_TEST(differences.used.contains(name), "no case for: " << name);
    BOOST_TEST(!reason.empty());
  }
}

BOOST_AUTO_TEST_CASE(random_text_agrees_with_icu_but_for_the_deliberate_differences) {
  std::mt19937_64 random(20240917);
  IcuWords icu;
  std::size_t deliberate = 0;
  for (int round = 0; round < 40000; ++round) {
    const std::string text = random_text(random, alphabet());
    const Breaks mine = ours(text);
    const Breaks theirs = icu(text);
    const std::set<std::uint32_t> cut(mine.begin(), mine.end());
    const std::set<std::uint32_t> standard(theirs.begin(), theirs.end());
    for (const std::uint32_t place : standard) {
      BOOST_REQUIRE_MESSAGE(cut.contains(place), "no break at " << place << " in [" << text << "]");
    }
    for (const std::uint32_t place : cut) {
      if (standard.contains(place)) continue;
      ++deliberate;
      BOOST_REQUIRE_MESSAGE(is_deliberate(neighbours(text, place)),
                            "a break at " << place << " in [" << text << "]");
    }
    for (std::uint32_t place = 1; place < text.size(); ++place) {
      if ((static_cast<unsigned char>(text[place]) & 0xC0U) == 0x80U) continue;
      const Neighbours around = neighbours(text, place);
      if (around.at_character && !around.at_emoji_join && letter_meets_digit(around)) {
        BOOST_REQUIRE_MESSAGE(cut.contains(place), "no break at " << place << " in [" << text << "]");
      }
    }
  }
  BOOST_TEST(deliberate > 1000U);
}

BOOST_AUTO_TEST_SUITE_END()
