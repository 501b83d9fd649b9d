#include "text/word_breaks.hpp"

#include <boost/test/unit_test.hpp>

#include <random>
#include <string>
#include <vector>

#include "text/word_segments.hpp"

using namespace racking::text;

namespace {

// The text with a bar at each inner boundary.
std::string cut(std::string_view text) {
  std::vector<std::uint32_t> breaks;
  word_breaks(text, breaks);
  std::string result;
  for (std::size_t at = 1; at < breaks.size(); ++at) {
    if (at > 1) result += '|';
    result += text.substr(breaks[at - 1], breaks[at] - breaks[at - 1]);
  }
  return result;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(text_word_breaks)

BOOST_AUTO_TEST_CASE(words_and_numbers) {
  BOOST_TEST(cut("") == "");
  BOOST_TEST(cut("it's crisp") == "it's| |crisp");
  BOOST_TEST(cut("it’s d'été l'") == "it’s| |d'été| |l|'");
  BOOST_TEST(cut("13.5 13,5 1,000 1.") == "13.5| |13,5| |1,000| |1|.");
  BOOST_TEST(cut("13½") == "13|½");
  BOOST_TEST(cut("med(+) ++") == "med|(|+|)| |+|+");
  BOOST_TEST(cut("off-dry") == "off|-|dry");
}

BOOST_AUTO_TEST_CASE(deliberate_differences) {
  BOOST_TEST(cut("Nose:x") == "Nose|:|x");
  BOOST_TEST(cut("full.Long") == "full|.|Long");
  BOOST_TEST(cut("12g H2S 2nd") == "12|g| |H|2|S| |2|nd");
  BOOST_TEST(cut("2009;2010") == "2009|;|2010");
  BOOST_TEST(cut("_crisp_") == "_|crisp|_");
  BOOST_TEST(cut("pêche\u202F: 3") == "pêche|\u202F|:| |3");
}

BOOST_AUTO_TEST_CASE(emoji_and_flags_are_whole) {
  BOOST_TEST(cut("🍷🍇") == "🍷|🍇");
  BOOST_TEST(cut("a👩🏽‍🌾b") == "a|👩🏽‍🌾|b");
  BOOST_TEST(cut("🇫🇷🇮🇹🇪") == "🇫🇷|🇮🇹|🇪");
}

BOOST_AUTO_TEST_CASE(ill_formed_parts_stand_alone) {
  BOOST_TEST(cut("ros\xE9 b\xE2\x80\x63") == "ros|\xE9| |b|\xE2\x80|c");
}

BOOST_AUTO_TEST_CASE(ascii_table_agrees_with_the_properties) {
  for (char32_t c = 0; c < 128; ++c) {
    BOOST_TEST((ascii_characters[c] == derive_character(c)), "U+" << static_cast<unsigned>(c));
  }
}

BOOST_AUTO_TEST_CASE(table_beyond_ascii_agrees_with_the_properties) {
  for (char32_t c = 0x80; c < 0x3000; ++c) {
    BOOST_TEST((character(c) == derive_character(c)), "U+" << static_cast<unsigned>(c));
  }
}

// The quick ASCII scan against the rules over ICU's properties alone.
BOOST_AUTO_TEST_CASE(ascii_path_agrees_with_the_rules) {
  std::mt19937_64 random(3);
  const std::string common = "aabcdeMNZ   \t\n\r0123..,,;:''\"\"-_+/%()!?";
  for (int round = 0; round < 60000; ++round) {
    std::string text;
    const std::size_t length = random() % 30;
    for (std::size_t at = 0; at < length; ++at) {
      text.push_back(random() % 8 == 0 ? static_cast<char>(random() % 128)
                                       : common[random() % common.size()]);
    }
    std::vector<std::uint32_t> quick;
    word_breaks(text, quick);
    std::vector<std::uint32_t> general;
    if (!text.empty()) general.push_back(0);
    SegmentRules rules(text, [](char32_t c) noexcept { return derive_character(c); });
    while (!general.empty() && general.back() < text.size()) {
      general.push_back(rules.end_of(general.back()));
    }
    BOOST_REQUIRE_EQUAL_COLLECTIONS(quick.begin(), quick.end(), general.begin(), general.end());
  }
}

BOOST_AUTO_TEST_SUITE_END()
