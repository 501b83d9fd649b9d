#include "text/utf8.hpp"

#include <boost/test/unit_test.hpp>

#include <string>
#include <vector>

using namespace racking;
using namespace racking::text;

namespace {

std::vector<std::uint32_t> lengths(std::string_view text) {
  std::vector<std::uint32_t> result;
  for (std::uint32_t at = 0; at < text.size();) {
    const Decoded decoded = decode(text, at);
    result.push_back(decoded.length);
    at += decoded.length;
  }
  return result;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(text_utf8)

BOOST_AUTO_TEST_CASE(every_scalar_value_comes_back) {
  for (char32_t c = 0; c <= 0x10FFFF; ++c) {
    if (c >= 0xD800 && c <= 0xDFFF) continue;
    std::string text;
    append(text, c);
    const Decoded decoded = decode(text, 0);
    BOOST_REQUIRE(decoded.well_formed);
    BOOST_REQUIRE(decoded.code_point == c);
    BOOST_REQUIRE_EQUAL(decoded.length, text.size());
  }
}

BOOST_AUTO_TEST_CASE(what_is_no_scalar_value_is_appended_as_a_replacement) {
  for (const char32_t c : {char32_t{0xD800}, char32_t{0xDFFF}, char32_t{0x110000}}) {
    std::string text;
    append(text, c);
    BOOST_TEST(text == "\xEF\xBF\xBD");
  }
}

// The Unicode Standard 15.0, section 3.9, tables 3-8 to 3-11.
BOOST_AUTO_TEST_CASE(ill_formed_parts_are_maximal_subparts) {
  using Lengths = std::vector<std::uint32_t>;
  BOOST_TEST(lengths("\xC0\xAF\xE0\x80\xBF\xF0\x81\x82\x41") == Lengths({1, 1, 1, 1, 1, 1, 1, 1, 1}));
  BOOST_TEST(lengths("\xED\xA0\x80\xED\xBF\xBF\xED\xAF\x41") == Lengths({1, 1, 1, 1, 1, 1, 1, 1, 1}));
  BOOST_TEST(lengths("\xF4\x91\x92\x93\xFF\x41\x80\xBF\x42") == Lengths({1, 1, 1, 1, 1, 1, 1, 1, 1}));
  BOOST_TEST(lengths("\xE1\x80\xE2\xF0\x91\x92\xF1\xBF\x41") == Lengths({2, 1, 3, 2, 1}));
}

BOOST_AUTO_TEST_CASE(ill_formed_parts_are_listed_in_order) {
  const std::vector<Span> parts = ill_formed_parts("a\xE9 b\xE2\x80 c\xFF");
  BOOST_REQUIRE_EQUAL(parts.size(), 3U);
  BOOST_TEST((parts[0] == Span{1, 2}));
  BOOST_TEST((parts[1] == Span{4, 6}));
  BOOST_TEST((parts[2] == Span{8, 9}));
  BOOST_TEST(ill_formed_parts("rosé 🍷").empty());
}

BOOST_AUTO_TEST_CASE(ascii_is_told_wherever_the_other_byte_stands) {
  for (std::size_t size = 0; size < 40; ++size) {
    std::string text(size, '\x7F');
    BOOST_TEST(is_ascii(text));
    for (std::size_t at = 0; at < size; ++at) {
      text[at] = '\x80';
      BOOST_TEST(!is_ascii(text));
      text[at] = '\0';
    }
  }
}

BOOST_AUTO_TEST_SUITE_END()
