// How intervals combine: the worked examples of combination.hpp, and properties over generated
// readings. The rule is the project's own (common practice, no source).
#include <boost/test/unit_test.hpp>

#include <algorithm>
#include <random>
#include <string>
#include <vector>

#include "judge/combination.hpp"
#include "racking/racking.hpp"

using namespace racking;
using judge::Combined;
using judge::combine;

namespace {

using Readings = std::vector<Reading>;

Combined combined(const Readings& readings, Dimension dimension = Dimension::tannin) {
  return combine(dimension, [&](auto&& visit) {
    for (const Reading& reading : readings) visit(reading);
  });
}

Reading reading(int low, int high, Stance stance = Stance::stated, When when = When::now,
                Phase phase = Phase::overall) {
  Reading one;
  one.range = Interval{static_cast<std::uint8_t>(low), static_cast<std::uint8_t>(high)};
  one.stance = stance;
  one.when = when;
  one.phase = phase;
  return one;
}

Reading denial() {
  Reading one;
  one.stance = Stance::denied;
  return one;
}

Combined is(int low, int high, bool conflict = false) {
  return {Interval{static_cast<std::uint8_t>(low), static_cast<std::uint8_t>(high)}, conflict};
}

// Every kind of reading there is, so that random lists hold them all.
class Generator {
 public:
  explicit Generator(unsigned seed) : random_(seed) {}
  int below(int n) { return std::uniform_int_distribution<int>(0, n - 1)(random_); }
  Reading one() {
    const int low = 1 + below(5), high = low + below(6 - low);
    Reading made = reading(low, high, static_cast<Stance>(below(3)), static_cast<When>(below(4)),
                           static_cast<Phase>(below(5)));
    if (below(8) == 0) made.range.reset();
    return made;
  }
  Readings some(int most) {
    Readings all(static_cast<std::size_t>(below(most + 1)));
    for (Reading& made : all) made = one();
    return all;
  }
  std::mt19937& engine() { return random_; }

 private:
  std::mt19937 random_;
};

bool inside(const Combined& inner, const Combined& outer) {
  return outer.range && inner.range && inner.range->low >= outer.range->low &&
         inner.range->high <= outer.range->high;
}

bool overlap(Interval a, Interval b) { return a.low <= b.high && b.low <= a.high; }

// What the rule lets count, found the slow way.
Readings counted(const Readings& all, Dimension dimension) {
  for (const Stance stance : {Stance::stated, Stance::hedged})
    for (const bool own_phase : {true, false}) {
      Readings found;
      for (const Reading& one : all)
        if (one.range && one.when == When::now && one.stance == stance &&
            (!own_phase || (dimension == Dimension::finish && one.phase == Phase::finish)))
          found.push_back(one);
      if (!found.empty()) return found;
    }
  return {};
}

constexpr int rounds = 20000;

}  // namespace

std::ostream& boost_test_print_type(std::ostream& out, const Combined& one) {
  if (!one.range) return out << "none";
  return out << '[' << int{one.range->low} << ',' << int{one.range->high} << ']'
             << (one.conflict ? " conflict" : "");
}
namespace racking::judge {
std::ostream& operator<<(std::ostream& out, const Combined& one) {
  return ::boost_test_print_type(out, one);
}
}  // namespace racking::judge

BOOST_AUTO_TEST_SUITE(judge_combination)

BOOST_AUTO_TEST_CASE(worked_examples) {
  constexpr auto hedged = Stance::hedged;
  BOOST_TEST(combined({reading(4, 4), reading(4, 5)}) == is(4, 4));
  BOOST_TEST(combined({reading(1, 3), reading(2, 4), reading(3, 3)}) == is(3, 3));
  BOOST_TEST(combined({reading(1, 3), reading(4, 5)}) == is(1, 5, true));
  BOOST_TEST(combined({reading(4, 4), reading(1, 3, hedged)}) == is(4, 4));
  BOOST_TEST(combined({reading(1, 3, hedged), reading(2, 4, hedged)}) == is(2, 3));
  BOOST_TEST(combined({reading(4, 5), reading(1, 3, Stance::stated, When::with_air)}) == is(4, 5));
  BOOST_TEST(combined({reading(1, 3, Stance::stated, When::with_air)}) == Combined{});
  BOOST_TEST(combined({denial()}) == Combined{});
  BOOST_TEST(combined({denial(), reading(2, 3)}) == is(2, 3));
  BOOST_TEST(combined({reading(1, 1)}) == is(1, 1));
  const Readings finish{reading(4, 5, Stance::stated, When::now, Phase::finish),
                        reading(1, 2, Stance::stated, When::now, Phase::palate)};
  BOOST_TEST(combined(finish, Dimension::finish) == is(4, 5));
  BOOST_TEST(combined(finish, Dimension::tannin) == is(1, 5, true));   // of no other dimension
  const Readings guess{reading(4, 5, hedged, When::now, Phase::finish),
                       reading(1, 2, Stance::stated, When::now, Phase::palate)};
  BOOST_TEST(combined(guess, Dimension::finish) == is(1, 2));          // a statement outranks
}

BOOST_AUTO_TEST_CASE(nothing_read_says_nothing) {
  for (std::size_t d = 0; d < dimension_count; ++d)
    BOOST_TEST(combined({}, static_cast<Dimension>(d)) == Combined{});
}

BOOST_AUTO_TEST_CASE(order_does_not_matter) {
  Generator generate(1);
  for (int round = 0; round < rounds; ++round) {
    Readings all = generate.some(7);
    const auto dimension = static_cast<Dimension>(generate.below(dimension_count));
    const Combined first = combined(all, dimension);
    std::shuffle(all.begin(), all.end(), generate.engine());
    BOOST_REQUIRE(combined(all, dimension) == first);
  }
}

BOOST_AUTO_TEST_CASE(agreeing_evidence_never_widens) {
  Generator generate(2);
  for (int round = 0; round < rounds; ++round) {
    Readings all = generate.some(6);
    const Combined before = combined(all);
    Reading more = generate.one();
    more.stance = Stance::stated;
    more.when = When::now;
    if (!more.range || !before.range) continue;
    const bool all_hedged = counted(all, Dimension::tannin).front().stance == Stance::hedged;
    if (all_hedged) continue;   // a statement among guesses does not add to them, it replaces them
    const bool agrees = before.conflict ? inside({*more.range, false}, before)
                                        : overlap(*more.range, *before.range);
    if (!agrees) continue;
    all.push_back(more);
    BOOST_REQUIRE(inside(combined(all), before));
    BOOST_REQUIRE(combined(all).conflict == before.conflict);
  }
}

BOOST_AUTO_TEST_CASE(saying_a_thing_twice_changes_nothing) {
  Generator generate(3);
  for (int round = 0; round < rounds; ++round) {
    Readings all = generate.some(6);
    if (all.empty()) continue;
    const auto dimension = static_cast<Dimension>(generate.below(dimension_count));
    const Combined before = combined(all, dimension);
    all.push_back(all[static_cast<std::size_t>(generate.below(static_cast<int>(all.size())))]);
    BOOST_REQUIRE(combined(all, dimension) == before);
  }
}

BOOST_AUTO_TEST_CASE(guesses_count_only_where_nothing_is_stated) {
  Generator generate(4);
  for (int round = 0; round < rounds; ++round) {
    Readings all = generate.some(6);
    Readings stated;
    for (const Reading& one : all)
      if (one.stance == Stance::stated) stated.push_back(one);
    const Combined of_stated = combined(stated);
    if (of_stated.range)
      BOOST_REQUIRE(combined(all) == of_stated);
    else
      for (const Reading& one : counted(all, Dimension::tannin))
        BOOST_REQUIRE(one.stance == Stance::hedged);
  }
}

BOOST_AUTO_TEST_CASE(with_air_never_combines_with_now) {
  Generator generate(5);
  for (int round = 0; round < rounds; ++round) {
    Readings all = generate.some(6);
    const Combined before = combined(all);
    Reading aired = generate.one();
    aired.when = static_cast<When>(1 + generate.below(3));   // with air, later, before
    all.push_back(aired);
    BOOST_REQUIRE(combined(all) == before);
  }
}

BOOST_AUTO_TEST_CASE(the_finish_has_its_own_phase) {
  Generator generate(6);
  for (int round = 0; round < rounds; ++round) {
    const Readings all = generate.some(6);
    Readings own;
    for (const Reading& one : all)
      if (one.phase == Phase::finish && one.stance == Stance::stated) own.push_back(one);
    const Combined of_own = combined(own, Dimension::finish);
    if (of_own.range) BOOST_REQUIRE(combined(all, Dimension::finish) == of_own);
  }
}

BOOST_AUTO_TEST_CASE(the_result_is_common_part_or_hull) {
  Generator generate(7);
  for (int round = 0; round < rounds; ++round) {
    const Readings all = generate.some(6);
    const auto dimension = static_cast<Dimension>(generate.below(dimension_count));
    const Combined found = combined(all, dimension);
    const Readings those = counted(all, dimension);
    BOOST_REQUIRE(found.range.has_value() == !those.empty());
    if (those.empty()) continue;
    bool steps[6] = {}, any = false;
    std::uint8_t low = 5, high = 1;
    for (std::uint8_t step = 1; step <= 5; ++step) {
      steps[step] = std::all_of(those.begin(), those.end(), [&](const Reading& one) {
        return one.range->low <= step && step <= one.range->high;
      });
      any = any || steps[step];
    }
    for (const Reading& one : those) {
      low = std::min(low, one.range->low);
      high = std::max(high, one.range->high);
    }
    BOOST_REQUIRE(found.conflict == !any);
    for (std::uint8_t step = 1; step <= 5; ++step) {
      const bool in = found.range->low <= step && step <= found.range->high;
      BOOST_REQUIRE(in == (any ? steps[step] : low <= step && step <= high));
    }
  }
}

// ---- the same, of whole notes through the public surface ----

namespace {

const Reader& reader() {
  static const Reader shared;
  return shared;
}

// Phrases that each say one thing of one dimension, in sentences of their own.
struct Said { Dimension dimension; const char* words; };
constexpr Said sentences[] = {
    {Dimension::tannin, "Firm tannins."}, {Dimension::tannin, "Grippy."},
    {Dimension::tannin, "Dries the gums."}, {Dimension::tannin, "Low tannins."},
    {Dimension::tannin, "Perhaps chewy tannins."}, {Dimension::tannin, "No tannin."},
    {Dimension::acidity, "Crisp acidity."}, {Dimension::acidity, "High acidity."},
    {Dimension::acidity, "Perhaps flabby."}, {Dimension::acidity, "Medium acidity."},
    {Dimension::body, "Full body."}, {Dimension::body, "Not much body."},
    {Dimension::body, "Light-bodied."}, {Dimension::sweetness, "Bone dry."},
    {Dimension::sweetness, "Off-dry."}, {Dimension::alcohol, "High alcohol."},
    {Dimension::finish, "Long finish."}, {Dimension::finish, "The finish is short."},
    {Dimension::finish, "Perhaps a medium finish."},
};

std::string note_of(const std::vector<Said>& said) {
  std::string text;
  for (const Said& one : said) text.append(text.empty() ? "" : " ").append(one.words);
  return text;
}

std::string ranges_of(const Note& note) {
  std::string out;
  for (std::size_t d = 0; d < dimension_count; ++d) {
    const Level& level = note.structure()[static_cast<Dimension>(d)];
    out += level.range ? std::to_string(level.range->low) + "-" + std::to_string(level.range->high)
                       : "none";
    out += level.conflict ? "! " : " ";
  }
  return out;
}

}  // namespace

BOOST_AUTO_TEST_CASE(an_empty_note_states_nothing) {
  for (const char* text : {"", " ", "\n\n", "!?", "The and of.", "🍷🍷"}) {
    const Note note = reader().read(text);
    for (std::size_t d = 0; d < dimension_count; ++d) {
      const Level& level = note.structure()[static_cast<Dimension>(d)];
      BOOST_TEST(!level.stated());
      BOOST_TEST(!level.range);
      BOOST_TEST(!level.conflict);
    }
    BOOST_TEST(!note.maturity().stage);
    BOOST_TEST(note.maturity().evidence.empty());
    BOOST_TEST((note.condition().verdict == Verdict::not_stated));
    BOOST_TEST(note.remarks().empty());
  }
}

BOOST_AUTO_TEST_CASE(each_sentence_says_its_one_thing) {
  for (const Said& one : sentences) BOOST_TEST_CONTEXT(one.words) {
    const Note note = reader().read(one.words);
    BOOST_REQUIRE_EQUAL(note.readings().size(), 1u);
    BOOST_TEST((note.readings()[0].dimension == one.dimension));
  }
}

BOOST_AUTO_TEST_CASE(sentences_in_any_order_say_the_same) {
  Generator generate(8);
  for (int round = 0; round < 400; ++round) {
    std::vector<Said> said;
    for (int i = 0, n = 2 + generate.below(6); i < n; ++i)
      said.push_back(sentences[generate.below(static_cast<int>(std::size(sentences)))]);
    const std::string first = ranges_of(reader().read(note_of(said)));
    std::shuffle(said.begin(), said.end(), generate.engine());
    BOOST_REQUIRE_MESSAGE(ranges_of(reader().read(note_of(said))) == first, note_of(said));
  }
}

BOOST_AUTO_TEST_CASE(a_note_keeps_each_reading_that_it_combined) {
  const Note note = reader().read("Soft tannins at first taste. Grippy.");
  BOOST_TEST(note.structure().tannin.readings.size() == 2u);
  BOOST_TEST(note.structure().tannin.conflict);
  BOOST_TEST((note.structure().tannin.range == Interval{1, 5}));
}

BOOST_AUTO_TEST_CASE(air_is_another_moment_of_the_note) {
  const Note note = reader().read("Grippy tannins. With air the tannins are soft.");
  BOOST_TEST((note.structure().tannin.range == Interval{4, 5}));
  BOOST_TEST(!note.structure().tannin.conflict);
}

BOOST_AUTO_TEST_SUITE_END()
