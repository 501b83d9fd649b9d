// Every word of the levels table in the project's reading conventions (shared/reading.md), with
// its noun, after its verb, with modifiers and denied. Common practice, no source.
#include <boost/test/unit_test.hpp>

#include <optional>
#include <string>
#include <vector>

#include "racking/racking.hpp"

using namespace racking;

namespace {

const Reader& reader() {
  static const Reader shared{Lexicon::house()};
  return shared;
}

struct Row {
  std::string word;
  int low, high;
};

// "overlaps the marked one and is at most one step wider", as the corpus judges.
bool agrees(const std::optional<Interval>& range, int low, int high) {
  if (!range) return false;
  return range->low <= high && low <= range->high && range->high - range->low <= high - low + 1;
}

void check(const std::string& text, Dimension dimension, int low, int high) {
  const Note note = reader().read(text);
  const std::span<const Reading> readings = note.readings();
  bool found = false;
  for (const Reading& reading : readings)
    found = found || (reading.dimension == dimension && reading.stance == Stance::stated &&
                      agrees(reading.range, low, high));
  BOOST_TEST(found, text << " is not read as [" << low << ", " << high << "]");
  BOOST_TEST(readings.size() == 1u, text << " has " << readings.size() << " readings");
}

// The word before its noun, after it, and behind a colon.
void check_with_noun(const std::string& noun, Dimension dimension, const std::vector<Row>& rows) {
  const bool plural = noun.back() == 's';
  for (const Row& row : rows) {
    check("It has " + row.word + " " + noun + ".", dimension, row.low, row.high);
    check("The " + noun + (plural ? " are " : " is ") + row.word + ".", dimension, row.low, row.high);
    check("The " + noun + ", to my surprise, " + (plural ? "were " : "was ") + row.word + ".", dimension,
          row.low, row.high);
    check(noun + ": " + row.word, dimension, row.low, row.high);
  }
}

void check_alone(Dimension dimension, const std::vector<Row>& rows) {
  for (const Row& row : rows) {
    check("Nice enough; " + row.word + ".", dimension, row.low, row.high);
    check("It's " + row.word + ".", dimension, row.low, row.high);
  }
}

}  // namespace

BOOST_AUTO_TEST_SUITE(levels_table)

BOOST_AUTO_TEST_CASE(acidity) {
  check_with_noun("acidity", Dimension::acidity,
                  {{"flat", 1, 1}, {"flabby", 1, 1}, {"soft", 1, 2}, {"low", 1, 2}, {"gentle", 1, 2},
                   {"fresh", 3, 3}, {"good", 3, 4}, {"crisp", 4, 4}, {"bright", 4, 4}, {"lively", 4, 4},
                   {"zesty", 4, 4}, {"racy", 4, 4}, {"brisk", 4, 4}, {"high", 4, 5}, {"tart", 4, 5},
                   {"sharp", 4, 5}, {"searing", 4, 5}, {"mouth-watering", 4, 5}});
  check_alone(Dimension::acidity, {{"flabby", 1, 1}, {"crisp", 4, 4}, {"zesty", 4, 4}, {"racy", 4, 4},
                                   {"brisk", 4, 4}, {"tart", 4, 5}, {"sharp", 4, 5}, {"searing", 4, 5},
                                   {"mouth-watering", 4, 5}});
  check("Balanced by fresh acidity.", Dimension::acidity, 3, 3);
}

BOOST_AUTO_TEST_CASE(tannin) {
  check_with_noun("tannins", Dimension::tannin,
                  {{"soft", 1, 3}, {"silky", 1, 3}, {"smooth", 1, 3}, {"supple", 1, 3}, {"fine", 1, 3},
                   {"low", 1, 2}, {"ripe", 2, 4}, {"round", 2, 4}, {"medium", 3, 3}, {"firm", 4, 4},
                   {"chewy", 4, 4}, {"structured", 4, 4}, {"grippy", 4, 5}, {"drying", 4, 5},
                   {"astringent", 4, 5}, {"hard", 4, 5}, {"massive", 4, 5}, {"dry", 4, 5}});
  check_alone(Dimension::tannin, {{"firm", 4, 4}, {"chewy", 4, 4}, {"grippy", 4, 5}, {"drying", 4, 5},
                                  {"astringent", 4, 5}, {"tannic", 4, 5}});
  check("It dries the gums.", Dimension::tannin, 4, 5);
  check("A very dry set of gums at the end.", Dimension::tannin, 4, 5);
}

BOOST_AUTO_TEST_CASE(body) {
  check_with_noun("body", Dimension::body,
                  {{"thin", 1, 1}, {"dilute", 1, 1}, {"light", 1, 2}, {"delicate", 1, 2}, {"medium", 3, 3},
                   {"medium-plus", 3, 4}, {"full", 4, 5}, {"rich", 4, 5}, {"big", 4, 5},
                   {"weighty", 4, 5}, {"dense", 4, 5}});
  check_alone(Dimension::body, {{"thin", 1, 1}, {"dilute", 1, 1}, {"light-bodied", 1, 2},
                                {"delicate", 1, 2}, {"medium-bodied", 3, 3}, {"full-bodied", 4, 5},
                                {"rich", 4, 5}, {"big", 4, 5}, {"weighty", 4, 5}, {"dense", 4, 5}});
}

BOOST_AUTO_TEST_CASE(sweetness) {
  check_alone(Dimension::sweetness, {{"bone dry", 1, 1}, {"dry", 1, 2}, {"off-dry", 3, 3},
                                     {"medium-sweet", 4, 4}, {"sweet", 4, 5}, {"luscious", 4, 5}});
}

BOOST_AUTO_TEST_CASE(alcohol) {
  check_with_noun("alcohol", Dimension::alcohol,
                  {{"light", 1, 2}, {"low", 1, 2}, {"moderate", 3, 3}, {"warm", 4, 4}, {"warming", 4, 4},
                   {"hot", 4, 5}, {"burning", 4, 5}, {"high", 4, 5}});
  check_alone(Dimension::alcohol, {{"warm", 4, 4}, {"warming", 4, 4}, {"hot", 4, 5}, {"spirity", 4, 5}});
}

BOOST_AUTO_TEST_CASE(finish) {
  check_with_noun("finish", Dimension::finish,
                  {{"short", 1, 2}, {"medium", 3, 3}, {"moderate", 3, 3}, {"long", 4, 5},
                   {"lingering", 4, 5}, {"persistent", 4, 5}});
  check_alone(Dimension::finish, {{"short", 1, 2}, {"long", 4, 5}, {"lingering", 4, 5}});
  check("Gone at once.", Dimension::finish, 1, 1);
  check("It falls away.", Dimension::finish, 1, 2);
  check("It goes on and on.", Dimension::finish, 4, 5);
}

BOOST_AUTO_TEST_CASE(sparkle) {
  check_with_noun("mousse", Dimension::sparkle,
                  {{"gentle", 3, 3}, {"creamy", 3, 3}, {"lively", 4, 5}, {"vigorous", 4, 5},
                   {"aggressive", 4, 5}});
  check("Nice, still.", Dimension::sparkle, 1, 1);
  check("A prickle of gas.", Dimension::sparkle, 2, 2);
  check("A spritz.", Dimension::sparkle, 2, 2);
  check("Aggressive bubbles.", Dimension::sparkle, 4, 5);
}

BOOST_AUTO_TEST_CASE(expression) {
  check_with_noun("nose", Dimension::expression,
                  {{"closed", 1, 2}, {"dumb", 1, 2}, {"shy", 1, 2}, {"quiet", 1, 2}, {"open", 3, 3},
                   {"aromatic", 3, 5}, {"perfumed", 3, 5}, {"intense", 4, 5}, {"powerful", 4, 5},
                   {"pungent", 4, 5}, {"explosive", 4, 5}});
}

BOOST_AUTO_TEST_CASE(modifiers_move_a_step_and_no_more) {
  check("Very high acidity.", Dimension::acidity, 5, 5);
  check("Quite high acidity.", Dimension::acidity, 3, 4);
  check("Very firm tannins.", Dimension::tannin, 4, 5);
  check("Fairly firm tannins.", Dimension::tannin, 3, 4);
  check("Rather soft acidity.", Dimension::acidity, 2, 3);
  check("Slightly sweet.", Dimension::sweetness, 3, 3);
  check("A touch hot.", Dimension::alcohol, 3, 4);
  check("A bit too soft in acidity.", Dimension::acidity, 1, 2);
  check("Acidity too soft.", Dimension::acidity, 1, 2);
  check("Very long finish.", Dimension::finish, 5, 5);
}

BOOST_AUTO_TEST_CASE(a_denial_leaves_a_level) {
  check("Not much body.", Dimension::body, 1, 2);
  check("No tannin.", Dimension::tannin, 1, 1);
  check("Not overly tannic.", Dimension::tannin, 1, 3);
  check("Not very tannic.", Dimension::tannin, 1, 3);
  check("Not too acidic.", Dimension::acidity, 1, 3);
  check("Could use more acid.", Dimension::acidity, 1, 2);
  check("Acidity could be higher.", Dimension::acidity, 1, 2);
  check("Not heavy.", Dimension::body, 1, 3);
}

BOOST_AUTO_TEST_CASE(words_that_state_no_level) {
  for (const char* text : {"Tannins, acidity.", "Structured.", "Balanced.", "Elegant.", "Smooth.", "Soft.",
                           "Round.", "Bold.", "Lively.", "Sweet fruit.", "Sweet spice.", "Sweet oak.",
                           "Intense palate.", "Tart cherry.", "Blackberry tart.", "Ruby, medium intensity."})
    BOOST_TEST(reader().read(text).readings().empty(), text << " states a level");
}

BOOST_AUTO_TEST_SUITE_END()
