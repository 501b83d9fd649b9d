#include "text/fold.hpp"

#include <boost/test/unit_test.hpp>

#include <random>
#include <string>

#include "text/fold_keys.hpp"
#include "text/utf8.hpp"

using namespace racking::text;

BOOST_AUTO_TEST_SUITE(text_fold)

BOOST_AUTO_TEST_CASE(exact_keeps_accents) {
  BOOST_TEST(fold_exact("Rosé") == "rosé");
  BOOST_TEST(fold_exact("ROSE\u0301") == "rosé");
  BOOST_TEST(fold_exact("ŒUFS") == "œufs");
  BOOST_TEST(fold_exact("GROSS") == fold_exact("groß"));
  BOOST_TEST(fold_exact("ΟΙΝΟΣ") == fold_exact("οινος"));
  BOOST_TEST(fold_exact("ＤＲＹ") == "dry");
}

BOOST_AUTO_TEST_CASE(plain_takes_marks_and_ligatures_apart) {
  BOOST_TEST(fold("Œufs brûlés") == "oeufs brules");
  BOOST_TEST(fold("Crème Brûlée") == "creme brulee");
  BOOST_TEST(fold("cre\u0300me bru\u0302le\u0301e") == "creme brulee");
  BOOST_TEST(fold("Ærø Łódź Đorđe þorn Ħal İzmir") == "aero lodz dorde thorn hal izmir");
  BOOST_TEST(fold("Weißburgunder") == "weissburgunder");
  BOOST_TEST(fold("piñon ﬁg ĳs") == "pinon fig ijs");
  BOOST_TEST(fold("Ǽ") == "ae");
  BOOST_TEST(fold("αβγό") == "αβγο");
}

BOOST_AUTO_TEST_CASE(typographic_marks_become_plain) {
  BOOST_TEST(fold("it’s ‘so’ “so” «so» „so“") == "it's 'so' \"so\" \"so\" \"so\"");
  BOOST_TEST(fold("off‐dry off‑dry a–b a—b −2") == "off-dry off-dry a-b a-b -2");
  BOOST_TEST(fold("a\u00A0b\u202Fc\u2009d") == "a b c d");
  BOOST_TEST(fold("black\u00ADcurrant\uFEFF") == "blackcurrant");
}

BOOST_AUTO_TEST_CASE(what_means_something_stays) {
  BOOST_TEST(fold("13½") == "13½");
  BOOST_TEST(fold("10°") == "10°");
  BOOST_TEST(fold("m²") == "m²");
  BOOST_TEST(fold("≠") == "≠");
  BOOST_TEST(fold("col·lecció") == "col·leccio");
  BOOST_TEST(fold("coŀlecció") == "col·leccio");
  BOOST_TEST(fold("が") == "が");
  BOOST_TEST(fold("हिन्दी") == "हिन्दी");
  BOOST_TEST(fold("한글") == "한글");
}

BOOST_AUTO_TEST_CASE(ascii_lowers_letters_only) {
  for (std::size_t shift = 0; shift < 9; ++shift) {
    std::string text(shift, '.');
    std::string expected(shift, '.');
    for (int byte = 0; byte < 128; ++byte) {
      text.push_back(static_cast<char>(byte));
      expected.push_back(static_cast<char>(byte >= 'A' && byte <= 'Z' ? byte + 32 : byte));
    }
    BOOST_TEST(fold(text) == expected);
    BOOST_TEST(fold_exact(text) == expected);
  }
}

BOOST_AUTO_TEST_CASE(ascii_lowering_leaves_bytes_beyond_ascii) {
  std::string text;
  for (int byte = 0; byte < 256; ++byte) text.push_back(static_cast<char>(byte));
  std::string lowered(text.size(), '\0');
  copy_ascii_lower(text, lowered.data());
  for (std::size_t at = 128; at < 256; ++at) BOOST_TEST(lowered[at] == text[at]);
}

// The quick path folds each character by itself; a character beyond it forces the other.
BOOST_AUTO_TEST_CASE(quick_and_general_paths_agree) {
  std::mt19937_64 random(11);
  const std::string uncommon = "\u3042";
  for (int round = 0; round < 3000; ++round) {
    std::string text;
    const std::size_t length = 1 + random() % 12;
    for (std::size_t at = 0; at < length; ++at) {
      const char32_t from = random() % 3 == 0 ? 0x2000 : 0x20;
      const char32_t span = from == 0x20 ? 0x160 : 0x70;
      append(text, from + static_cast<char32_t>(random() % span));
    }
    BOOST_REQUIRE_EQUAL(fold(text) + uncommon, fold(text + uncommon));
    BOOST_REQUIRE_EQUAL(fold_exact(text) + uncommon, fold_exact(text + uncommon));
  }
}

BOOST_AUTO_TEST_CASE(ill_formed_bytes_do_no_harm) {
  BOOST_TEST(fold("ros\xE9") == "ros\uFFFD");
  BOOST_TEST(fold("\xE2\x80") == "\uFFFD");
  std::mt19937_64 random(12);
  for (int round = 0; round < 3000; ++round) {
    std::string text(random() % 20, ' ');
    for (char& byte : text) byte = static_cast<char>(random() & 0xFFU);
    const std::string exact = fold_exact(text);
    const std::string plain = fold(text);
    BOOST_REQUIRE(is_nfc(exact));
    BOOST_REQUIRE(is_nfc(plain));
    BOOST_REQUIRE_EQUAL(fold_exact(exact), exact);
    BOOST_REQUIRE_EQUAL(fold(plain), plain);
  }
}

BOOST_AUTO_TEST_CASE(is_nfc_wants_well_formed_and_composed) {
  BOOST_TEST(is_nfc(""));
  BOOST_TEST(is_nfc("Rosé"));
  BOOST_TEST(!is_nfc("Rose\u0301"));
  BOOST_TEST(!is_nfc("ros\xE9"));
}

BOOST_AUTO_TEST_SUITE_END()
