#include <boost/test/unit_test.hpp>

#include <set>
#include <string>

#include "racking/error.hpp"
#include "racking/version.hpp"
#include "racking/vocabulary.hpp"

using namespace racking;

namespace {

// Every id is there, once, and reads back; nothing stands after the last.
template <class Enum>
void check_list(std::size_t count, bool bits = false) {
  std::set<std::string> seen;
  for (std::size_t i = 0; i < count; ++i) {
    const auto value = static_cast<Enum>(bits ? std::size_t{1} << i : i);
    const std::string id(name_of(value));
    BOOST_TEST(!id.empty());
    BOOST_TEST(seen.insert(id).second);
    BOOST_REQUIRE(parse<Enum>(id).has_value());
    BOOST_TEST((*parse<Enum>(id) == value));
  }
  BOOST_TEST(name_of(static_cast<Enum>(bits ? std::size_t{1} << count : count)).empty());
  BOOST_TEST(!parse<Enum>("").has_value());
  BOOST_TEST(!parse<Enum>("no such id").has_value());
}

}  // namespace

BOOST_AUTO_TEST_SUITE(lexicon_vocabulary)

BOOST_AUTO_TEST_CASE(closed_lists_read_back) {
  check_list<Dimension>(dimension_count);
  check_list<Phase>(5);
  check_list<Stance>(3);
  check_list<When>(4);
  check_list<Frame>(8);
  check_list<State>(state_count, true);
  check_list<Origin>(4, true);
  check_list<Hue>(hue_count);
  check_list<Fault>(fault_count);
  check_list<QuantityKind>(quantity_kind_count);
  check_list<NameKind>(5);
  check_list<WineColour>(4);
  check_list<WineStyle>(4);
  check_list<Verdict>(3);
  check_list<Stage>(3);
  check_list<SightKind>(7);
}

BOOST_AUTO_TEST_CASE(ids_are_those_of_the_record) {
  BOOST_TEST(name_of(When::with_air) == "with air");
  BOOST_TEST(name_of(QuantityKind::ph) == "pH");
  BOOST_TEST(name_of(Hue::onion_skin) == "onion skin");
  BOOST_TEST(name_of(Hue::honey) == "honey");
  BOOST_TEST(name_of(Fault::sulphur_dioxide) == "sulphur dioxide");
  BOOST_TEST(name_of(WineColour::rose) == "rosé");
  BOOST_TEST(name_of(WineStyle::semi_sparkling) == "semi-sparkling");
  BOOST_TEST(name_of(Verdict::not_stated) == "not stated");
  BOOST_TEST(name_of(Stage::mid_life) == "mid-life");
  BOOST_TEST(name_of(State::bruised) == "bruised");
  BOOST_TEST(name_of(State::none).empty());
  BOOST_TEST(name_of(State::ripe | State::dried).empty());
  BOOST_TEST(name_of(Origin::none).empty());
}

BOOST_AUTO_TEST_CASE(steps_have_the_words_of_the_house) {
  BOOST_TEST(step_label(Dimension::tannin, 4) == "firm");
  BOOST_TEST(step_label(Dimension::sweetness, 3) == "touch of sweetness");
  BOOST_TEST(step_label(Dimension::expression, 5) == "powerful");
  BOOST_TEST(step_label(Dimension::tannin, 0).empty());
  BOOST_TEST(step_label(Dimension::tannin, 6).empty());
  for (std::size_t d = 0; d < dimension_count; ++d) {
    std::set<std::string_view> seen;
    for (int step = 1; step <= 5; ++step)
      BOOST_TEST(seen.insert(step_label(static_cast<Dimension>(d), step)).second);
  }
}

BOOST_AUTO_TEST_CASE(errors_carry_their_place) {
  const Problem problem{"a.toml", 3, 7, "unknown key 'x'", "remove it"};
  BOOST_TEST(problem.to_string() == "a.toml:3:7: unknown key 'x' (remove it)");
  BOOST_TEST((Problem{"a.toml", 0, 0, "gone", ""}.to_string()) == "a.toml: gone");
  const Error one(ErrorCode::lexicon_invalid, {problem});
  BOOST_TEST(one.what() == "a.toml:3:7: unknown key 'x' (remove it)");
  BOOST_TEST(one.message() == "unknown key 'x'");
  BOOST_TEST(one.source() == "a.toml");
  BOOST_TEST(one.line() == 3u);
  BOOST_TEST(one.column() == 7u);
  const Error other(ErrorCode::bad_argument, "no");
  BOOST_TEST(other.what() == "no");
  BOOST_TEST(other.problems().empty());
}

BOOST_AUTO_TEST_CASE(version_is_that_of_the_headers) {
  BOOST_TEST(version() == std::to_string(RACKING_VERSION_MAJOR) + "." +
                              std::to_string(RACKING_VERSION_MINOR) + "." +
                              std::to_string(RACKING_VERSION_PATCH));
}

BOOST_AUTO_TEST_SUITE_END()
