// Demo notes whose tidy texts were read by eye (tests/data/tidy/reviewed.jsonl; refresh.py
// there rewrites them and shows what changed).
#include <boost/test/unit_test.hpp>

#include <fstream>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "racking/racking.hpp"
#include "tidy_reading.hpp"

using namespace racking;

namespace {

struct Reviewed {
  std::string id, text, tidy;
};

std::vector<Reviewed> reviewed() {
  std::ifstream file(std::string(RACKING_TEST_DATA_DIR) + "/tidy/reviewed.jsonl");
  BOOST_REQUIRE(file.is_open());
  std::vector<Reviewed> all;
  for (std::string line; std::getline(file, line);) {
    const auto record = nlohmann::json::parse(line);
    all.push_back({record.at("id"), record.at("text"), record.at("tidy")});
  }
  return all;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(tidy_reviewed)

BOOST_AUTO_TEST_CASE(twenty_notes_at_least) { BOOST_TEST(reviewed().size() >= 20u); }

BOOST_AUTO_TEST_CASE(texts_are_as_reviewed) {
  for (const Reviewed& one : reviewed())
    BOOST_TEST(tests::reader().read(one.text).tidy() == one.tidy, one.id << "\n  reviewed: " << one.tidy
               << "\n  now:      " << tests::reader().read(one.text).tidy());
}

BOOST_AUTO_TEST_CASE(tidy_texts_read_back) {
  for (const Reviewed& one : reviewed()) {
    const Note note = tests::reader().read(one.text);
    const Note again = tests::reader().read(note.tidy());
    BOOST_TEST_CONTEXT(one.id << ": " << note.tidy()) {
      BOOST_TEST(tests::families(again) == tests::families(note), boost::test_tools::per_element());
      BOOST_TEST(tests::ranges(again) == tests::ranges(note), boost::test_tools::per_element());
    }
  }
}

BOOST_AUTO_TEST_SUITE_END()
