#include "text/tokens.hpp"

#include <boost/test/unit_test.hpp>

#include <algorithm>
#include <random>
#include <string>
#include <vector>

#include "text/fold.hpp"
#include "text/utf8.hpp"
#include "text/word_breaks.hpp"

using namespace racking;
using namespace racking::text;

namespace {

TokenizedText tokenized(std::string_view text) {
  TokenizedText result;
  tokenize(text, result);
  return result;
}

// Keys with a bar between; a hyphen that joins is shown as "~".
std::string keys(std::string_view text) {
  const TokenizedText cut = tokenized(text);
  std::string result;
  for (const Token& token : cut.tokens) {
    if (!result.empty()) result += token.is(Token::joined_before) ? '~' : '|';
    result += cut.key(token);
  }
  return result;
}

// Keys of the tokens that have the flag.
std::string flagged(std::string_view text, Token::Flag flag) {
  const TokenizedText cut = tokenized(text);
  std::string result;
  for (const Token& token : cut.tokens) {
    if (!token.is(flag)) continue;
    if (!result.empty()) result += '|';
    result += cut.key(token);
  }
  return result;
}

std::string kinds(std::string_view text) {
  std::string result;
  for (const Token& token : tokenized(text).tokens) result += "wnps"[static_cast<int>(token.kind)];
  return result;
}

bool is_white_space(char32_t c) {
  return c == ' ' || (c >= 9 && c <= 13) || c == 0x85 || c == 0xA0 || (c >= 0x2000 && c <= 0x200B) ||
         c == 0x2028 || c == 0x2029 || c == 0x202F || c == 0x205F || c == 0x3000 || c == 0x1680;
}
bool shows_nothing(char32_t c) {
  return c == 0xAD || c == 0x200C || c == 0x200D || c == 0x200E || c == 0x2060 || c == 0xFEFF || c == 0xFE0F;
}
bool is_hyphen(char32_t c) { return c == '-' || c == 0x2010 || c == 0x2011; }

const std::vector<std::string>& pieces() {
  static const std::vector<std::string> all = {
      "a", "b", "Long", "CRISP", "it's", "é", "É", "œuf", "rosé", "e\u0301", "\u0301", "ß", "中", "ж", "א", "Ⓜ",
      "1", "13.5", "½", "٣", " ", " ", "  ", "\t", "\n", "\r\n", "\n\n", "\u2028", "\u0085", "\u00A0", "\u202F",
      "-", "-", "‐", "‑", "–", "—", ".", "!", "?", "…", ",", ";", ":", "'", "’", "‘", "\"", "“", "”", "«", "»",
      "(", ")", "[", "]", "/", "+", "%", "_", "¿", "\u00AD", "\u200B", "\u200D", "\u2060", "\uFEFF", "\uFE0F", "🍷", "👩🏽‍🌾",
      "🇫🇷", "\xFF", "\xE2\x80", "\x80", std::string(1, '\0')};
  return all;
}

std::string random_text(std::mt19937_64& random, std::size_t most) {
  std::string text;
  const std::size_t length = random() % most;
  for (std::size_t at = 0; at < length; ++at) text += pieces()[random() % pieces().size()];
  return text;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(text_tokens)

BOOST_AUTO_TEST_CASE(words_keep_their_apostrophes) {
  BOOST_TEST(keys("It's ripe, it’s RIPE") == "it's|ripe|,|it's|ripe");
  BOOST_TEST(keys("'ripe' l’été") == "'|ripe|'|l'ete");
}

BOOST_AUTO_TEST_CASE(numbers_keep_their_points_and_commas) {
  BOOST_TEST(keys("13.5% 13,5 1,000g 13½ 2nd") == "13.5|%|13,5|1,000|g|13|½|2|nd");
  BOOST_TEST(kinds("13.5% 13½ + .") == "npnssp");
  BOOST_TEST(keys("3/5 ++ M+ med(+)") == "3|/|5|+|+|m|+|med|(|+|)");
}

BOOST_AUTO_TEST_CASE(hyphens_join_and_other_dashes_stand) {
  BOOST_TEST(keys("off-dry, off‐dry off‑dry") == "off~dry|,|off~dry|off~dry");
  BOOST_TEST(keys("medium-plus-bodied 2010-2015 crème-brûlée") == "medium~plus~bodied|2010~2015|creme~brulee");
  BOOST_TEST(keys("M- -5 a - b a--b a-\nb -") == "m|-|-|5|a|-|b|a|-|-|b|a|-|b|-");
  BOOST_TEST(keys("a–b a—b 5−6") == "a|-|b|a|-|b|5|-|6");
  BOOST_TEST(kinds("a–b −") == "wpwp");
  BOOST_TEST(keys("a-\u00ADb") == "a~b");
  BOOST_TEST(keys("a\uFEFF-b") == "a~b");
}

BOOST_AUTO_TEST_CASE(soft_hyphens_vanish_from_keys) {
  BOOST_TEST(keys("black\u00ADcurrant") == "blackcurrant");
  const TokenizedText cut = tokenized("black\u00ADcurrant");
  BOOST_TEST((cut.tokens.at(0).span == Span{0, 14}));
  BOOST_TEST(!cut.tokens[0].is(Token::accented));
}

BOOST_AUTO_TEST_CASE(accents_are_kept_beside) {
  const TokenizedText cut = tokenized("Rosé rose Œuf");
  BOOST_REQUIRE_EQUAL(cut.tokens.size(), 3U);
  BOOST_TEST(cut.key(cut.tokens[0]) == "rose");
  BOOST_TEST(cut.exact_key(cut.tokens[0]) == "rosé");
  BOOST_TEST(cut.tokens[0].is(Token::accented));
  BOOST_TEST(!cut.tokens[1].is(Token::accented));
  BOOST_TEST(cut.exact_key(cut.tokens[2]) == "œuf");
  BOOST_TEST(!cut.ascii);
  BOOST_TEST(tokenized("rose").ascii);
}

BOOST_AUTO_TEST_CASE(emoji_are_one_symbol) {
  BOOST_TEST(kinds("🍷👩🏽‍🌾 🇫🇷❤️") == "ssss");
  BOOST_TEST(kinds("ripe🍷ripe") == "wsw");
}

BOOST_AUTO_TEST_CASE(capitals) {
  BOOST_TEST(flagged("Long LONG long L Élan ÉLAN LoNG IT'S 1A", Token::capital) == "long|long|l|elan|elan|long|it's|a");
  BOOST_TEST(flagged("Long LONG long L Élan ÉLAN LoNG IT'S 1A 中文", Token::all_capitals) == "long|elan|it's");
}

BOOST_AUTO_TEST_CASE(white_space_is_marked) {
  BOOST_TEST(flagged("a b\u00A0c\u202Fd\te\nf,g", Token::space_before) == "b|c|d|e|f");
  BOOST_TEST(flagged("\uFEFFa", Token::space_before) == "");
  BOOST_TEST(flagged(" a", Token::space_before) == "a");
}

BOOST_AUTO_TEST_CASE(sentences_start) {
  const auto starts = [](std::string_view text) { return flagged(text, Token::sentence_start); };
  BOOST_TEST(starts("Brick at the rim. Damp cardboard, some cassis; Grippy! Dry? 3 weeks… Long.") == "brick|damp|dry|3|long");
  BOOST_TEST(starts("Tastes of approx. three things. and more.full") == "tastes");
  BOOST_TEST(starts("(Good.) Long \"Fine.\" Short «Bon.» Sec “Yes.” No") == "(|long|short|sec|no");
  BOOST_TEST(starts("Good. (Long) fine") == "good|(");
  BOOST_TEST(starts("Good. (long) fine") == "good");
  BOOST_TEST(starts("Good. \"Long\" fine. “(Dry) x") == "good|\"|\"");
  BOOST_TEST(starts("Bueno. ¿Dulce? no") == "bueno|¿");
  BOOST_TEST(starts("What?! Really ?! Yes . . . Dry") == "what|really|yes|dry");
  BOOST_TEST(starts("full.Long 13.5 x") == "full");
  BOOST_TEST(starts("nose\nclean\n\npalate") == "nose|clean|palate");
  BOOST_TEST(starts("- dry") == "-");
  BOOST_TEST(starts("Élan. Épice. été") == "elan|epice");
}

BOOST_AUTO_TEST_CASE(line_breaks_of_every_kind) {
  for (const std::string end : {"\n", "\r\n", "\r", "\u0085", "\u2028", "\u2029", "\v", "\f"}) {
    BOOST_TEST(flagged("a" + end + "b c", Token::line_before) == "b");
    BOOST_TEST(flagged("a" + end + "b c", Token::blank_line_before) == "");
    BOOST_TEST(flagged("a" + end + " " + end + "b c", Token::blank_line_before) == "b");
    BOOST_TEST(flagged("a" + end + end + "b c", Token::line_before) == "b");
  }
  BOOST_TEST(flagged("\n\nNose", Token::blank_line_before) == "nose");
}

BOOST_AUTO_TEST_CASE(soft_wraps_are_no_line_breaks) {
  const std::string line(39, 'x');
  const auto breaks = [](const std::string& text) { return flagged(text, Token::line_before); };
  BOOST_TEST(breaks(line + "x\nripe") == "");
  BOOST_TEST(breaks(line + "x  \r\n  13 ripe") == "");
  BOOST_TEST(flagged(line + "x\nripe", Token::space_before) == "ripe");
  BOOST_TEST(breaks(line + "\nripe") == "ripe");
  BOOST_TEST(breaks(line + "x\nRipe") == "ripe");
  BOOST_TEST(breaks(line + "x\n\nripe") == "ripe");
  BOOST_TEST(breaks(line + "x.\nripe") == "ripe");
  BOOST_TEST(breaks(line + "x.)\nripe") == "ripe");
  BOOST_TEST(breaks(line + "x:\nripe") == "ripe");
  BOOST_TEST(breaks(line + "x,\nripe") == "");
  BOOST_TEST(breaks(line + "x\n-ripe") == "-");
  BOOST_TEST(breaks(line + "x\nélan") == "");
  BOOST_TEST(breaks("short\n" + line + "x\nripe") == line + "x");
  std::string accented;
  for (int at = 0; at < 39; ++at) accented += "é";
  BOOST_TEST(breaks(accented + "\nripe") == "ripe");
  BOOST_TEST(breaks(accented + "é\nripe") == "");
}

BOOST_AUTO_TEST_CASE(ill_formed_bytes_are_symbols) {
  const TokenizedText cut = tokenized("ros\xE9 wine\xE2\x80");
  BOOST_REQUIRE_EQUAL(cut.tokens.size(), 4U);
  BOOST_TEST(cut.tokens[1].is(Token::ill_formed));
  BOOST_TEST((cut.tokens[1].kind == TokenKind::symbol));
  BOOST_TEST(cut.key(cut.tokens[1]) == "\uFFFD");
  BOOST_TEST((cut.ill_formed == std::vector<Span>{{3, 4}, {9, 11}}));
}

BOOST_AUTO_TEST_CASE(zero_bytes_are_symbols) {
  BOOST_TEST(kinds(std::string("a\0b", 3)) == "wsw");
}

BOOST_AUTO_TEST_CASE(long_words_have_cut_keys) {
  const std::string plain(70000, 'A');
  const TokenizedText ascii = tokenized(plain);
  BOOST_REQUIRE_EQUAL(ascii.tokens.size(), 1U);
  BOOST_TEST(ascii.tokens[0].span.size() == 70000U);
  BOOST_TEST(ascii.key(ascii.tokens[0]) == std::string(65535, 'a'));
  std::string greek = "a";
  for (int at = 0; at < 40000; ++at) greek += "ж";
  const TokenizedText other = tokenized(greek);
  BOOST_REQUIRE_EQUAL(other.tokens.size(), 1U);
  BOOST_TEST(other.key(other.tokens[0]).size() == 65535U);
  BOOST_TEST(ill_formed_parts(other.key(other.tokens[0])).empty());
}

BOOST_AUTO_TEST_CASE(long_odd_text_is_no_slower) {
  std::string text = "a";
  for (int at = 0; at < 200000; ++at) text += "'\u0301";
  tokenized(text);
  std::string emoji;
  for (int at = 0; at < 250000; ++at) emoji += "🍷";
  BOOST_TEST(tokenized(emoji).tokens.size() == 250000U);
}

BOOST_AUTO_TEST_CASE(nothing_is_left_from_the_note_before) {
  TokenizedText cut;
  tokenize("Rosé\xFF crisp", cut);
  tokenize("", cut);
  BOOST_TEST(cut.tokens.empty());
  BOOST_TEST(cut.ill_formed.empty());
  BOOST_TEST(cut.ascii);
}

// Nothing is lost: between tokens stand only white space, hyphens that join and
// what shows nothing; and each token is a segment with its key as fold() gives it.
BOOST_AUTO_TEST_CASE(random_text_is_covered_by_tokens) {
  std::mt19937_64 random(21);
  TokenizedText cut;
  std::vector<std::uint32_t> breaks;
  for (int round = 0; round < 20000; ++round) {
    const std::string text = random_text(random, 30);
    tokenize(text, cut);
    word_breaks(text, breaks);
    std::uint32_t at = 0;
    for (std::size_t index = 0; index <= cut.tokens.size(); ++index) {
      const bool last = index == cut.tokens.size();
      const std::uint32_t until = last ? static_cast<std::uint32_t>(text.size()) : cut.tokens[index].span.begin;
      BOOST_REQUIRE_LE(at, until);
      std::size_t hyphens = 0;
      bool space = false;
      while (at < until) {
        const Decoded decoded = decode(text, at);
        hyphens += is_hyphen(decoded.code_point) ? 1U : 0U;
        space = space || is_white_space(decoded.code_point);
        BOOST_REQUIRE_MESSAGE(is_hyphen(decoded.code_point) || is_white_space(decoded.code_point) ||
                                  shows_nothing(decoded.code_point), "lost at " << at << " in [" << text << "]");
        at += decoded.length;
      }
      if (last) {
        BOOST_REQUIRE_EQUAL(hyphens, 0U);
        break;
      }
      const Token& token = cut.tokens[index];
      const std::string_view word = std::string_view(text).substr(token.span.begin, token.span.size());
      BOOST_REQUIRE(!token.span.empty());
      BOOST_REQUIRE_EQUAL(hyphens == 1, token.is(Token::joined_before));
      BOOST_REQUIRE_EQUAL(space, token.is(Token::space_before));
      BOOST_REQUIRE_EQUAL(cut.key(token), fold(word));
      BOOST_REQUIRE_EQUAL(token.is(Token::accented), fold(word) != fold_exact(word));
      BOOST_REQUIRE_EQUAL(cut.exact_key(token), token.is(Token::accented) ? fold_exact(word) : "");
      BOOST_REQUIRE(std::binary_search(breaks.begin(), breaks.end(), token.span.end));
      at = token.span.end;
    }
    BOOST_REQUIRE(cut.ill_formed == ill_formed_parts(text));
    BOOST_REQUIRE_EQUAL(cut.ascii, is_ascii(text));
  }
}

// The quick ASCII scan against the general one.
BOOST_AUTO_TEST_CASE(quick_and_general_paths_agree) {
  std::mt19937_64 random(22);
  for (int round = 0; round < 20000; ++round) {
    std::string text;
    // Short, for the joiners count toward the length of a line that wraps.
    const std::size_t length = random() % 15;
    while (text.size() < length) {
      const std::string& piece = pieces()[random() % pieces().size()];
      if (is_ascii(piece)) text += piece;
    }
    // A word joiner after each character makes the rules judge each segment.
    std::string general;
    for (std::size_t at = 0; at < text.size(); ++at) {
      general += text[at];
      const bool pair = text[at] == '\r' && at + 1 < text.size() && text[at + 1] == '\n';
      if (!pair) general += "\u2060";
    }
    const TokenizedText quick = tokenized(text);
    const TokenizedText slow = tokenized(general);
    BOOST_REQUIRE_EQUAL(quick.tokens.size(), slow.tokens.size());
    for (std::size_t at = 0; at < quick.tokens.size(); ++at) {
      BOOST_REQUIRE_EQUAL(quick.key(quick.tokens[at]), slow.key(slow.tokens[at]));
      BOOST_REQUIRE_EQUAL(quick.tokens[at].flags, slow.tokens[at].flags);
      BOOST_REQUIRE((quick.tokens[at].kind == slow.tokens[at].kind));
    }
  }
}

BOOST_AUTO_TEST_SUITE_END()
