#include "text/offsets.hpp"

#include <boost/test/unit_test.hpp>

#include <random>
#include <string>

#include "text/utf8.hpp"

using namespace racking;
using namespace racking::text;

namespace {

std::uint32_t counted(std::string_view text, std::uint32_t byte, Offsets unit) {
  std::uint32_t units = 0;
  for (std::uint32_t at = 0; at < byte;) {
    const Decoded decoded = decode(text, at);
    if (at + decoded.length > byte) break;
    units += unit == Offsets::utf16 && decoded.code_point > 0xFFFF ? 2U : 1U;
    at += decoded.length;
  }
  return unit == Offsets::byte ? byte : units;
}

void check_all(std::string_view text) {
  for (const Offsets unit : {Offsets::byte, Offsets::codepoint, Offsets::utf16}) {
    const OffsetTable table(text, unit);
    for (std::uint32_t byte = 0; byte <= text.size(); ++byte) {
      BOOST_REQUIRE_EQUAL(table(byte), counted(text, byte, unit));
    }
  }
}

}  // namespace

BOOST_AUTO_TEST_SUITE(text_offsets)

BOOST_AUTO_TEST_CASE(known_places) {
  const std::string text = "Rosé 🍷 été";
  const OffsetTable points(text, Offsets::codepoint);
  const OffsetTable units(text, Offsets::utf16);
  const auto glass = static_cast<std::uint32_t>(text.find("🍷"));
  const auto summer = static_cast<std::uint32_t>(text.find("été"));
  BOOST_TEST(points(glass) == 5U);
  BOOST_TEST((points(Span{summer, summer + 5}) == Span{7, 10}));
  BOOST_TEST((units(Span{summer, summer + 5}) == Span{8, 11}));
  BOOST_TEST(OffsetTable()(7) == 7U);
}

BOOST_AUTO_TEST_CASE(random_text_well_formed_or_not) {
  std::mt19937_64 random(7);
  const std::vector<std::string> pieces = {"a", "bc ", "é", "œ", "…", "中", "文", "🍷", "🍇", "e\u0301",
                                           "\xFF", "\xE2\x80", "\xF0\x9F\x8D", "\x80", std::string(1, '\0')};
  for (int round = 0; round < 3000; ++round) {
    std::string text;
    const std::size_t length = random() % 30;
    for (std::size_t at = 0; at < length; ++at) text += pieces[random() % pieces.size()];
    check_all(text);
  }
}

BOOST_AUTO_TEST_CASE(random_bytes) {
  std::mt19937_64 random(8);
  for (int round = 0; round < 3000; ++round) {
    std::string text(random() % 40, ' ');
    for (char& byte : text) byte = static_cast<char>(random() & 0xFFU);
    check_all(text);
  }
}

BOOST_AUTO_TEST_SUITE_END()
