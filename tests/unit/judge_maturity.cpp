// Maturity: the rule of lib/judge/maturity.hpp. The order of the hues is common practice, no
// source, but for its ends: reds go from purple to brick (reviews of wine colour) and whites
// brown (Singleton and Kramling 1976, from memory).
#include <boost/test/unit_test.hpp>

#include <array>
#include <string>
#include <vector>

#include "racking/racking.hpp"

using namespace racking;

namespace {

const Reader& reader() {
  static const Reader shared;
  return shared;
}

struct Order { const char* wine; WineColour colour; std::vector<std::vector<Hue>> from_young; };

// Hues of one step stand together: none of them is browner than the other.
const std::vector<Order>& orders() {
  static const std::vector<Order> all{
      {"red wine", WineColour::red,
       {{Hue::blue, Hue::violet, Hue::purple, Hue::magenta},
        {Hue::crimson, Hue::ruby, Hue::cherry, Hue::raspberry, Hue::plum},
        {Hue::garnet},
        {Hue::brick, Hue::orange, Hue::rust},
        {Hue::tawny, Hue::amber, Hue::mahogany, Hue::brown}}},
      {"white wine", WineColour::white,
       {{Hue::colourless, Hue::green},
        {Hue::straw, Hue::lemon},
        {Hue::yellow},
        {Hue::gold},
        {Hue::old_gold, Hue::honey},
        {Hue::topaz, Hue::amber, Hue::bronze},
        {Hue::tawny, Hue::mahogany, Hue::brown}}},
      {"rosé wine", WineColour::rose,
       {{Hue::violet, Hue::magenta, Hue::raspberry, Hue::cherry, Hue::pink},
        {Hue::salmon, Hue::peach},
        {Hue::onion_skin, Hue::copper, Hue::apricot},
        {Hue::orange},
        {Hue::topaz, Hue::amber, Hue::bronze, Hue::brick},
        {Hue::rust, Hue::tawny, Hue::mahogany, Hue::brown}}},
      {"orange wine", WineColour::orange,
       {{Hue::orange, Hue::amber, Hue::copper}, {Hue::mahogany, Hue::brown}}}};
  return all;
}

std::string note_of(const Order& order, Hue core, std::optional<Hue> rim, const char* rest) {
  std::string text = "A " + std::string(order.wine) + ". Colour: " + std::string(name_of(core)) + " at the core";
  if (rim) text += ", " + std::string(name_of(*rim)) + " at the rim";
  return text + ". " + rest;
}

int age_of(const Note& note) {
  const auto& stage = note.maturity().stage;
  return stage ? static_cast<int>(stage->first) + static_cast<int>(stage->second) : -1;
}

std::string stage_of(std::string text) {
  const Note note = reader().read(std::move(text));
  const auto& stage = note.maturity().stage;
  if (!stage) return "none";
  const std::string first(name_of(stage->first)), second(name_of(stage->second));
  return first == second ? first : first + " to " + second;
}

bool has_remark(const Note& note, std::string_view id) {
  for (const Remark& one : note.remarks())
    if (one.id == id) return true;
  return false;
}

// What else the note may say, so that hues are weighed in company too.
constexpr std::array company = {"", "Leather.", "Leather, truffle, dried fig.", "Youthful.",
                                "Fully mature. Forest floor."};

// One hue after another, in one place; what stands in the other place is given.
void check_order(const Order& order, bool at_rim, std::optional<Hue> other, const char* rest) {
  int youngest = -1;
  for (const auto& step : order.from_young) {
    int of_step = -1;
    for (const Hue hue : step) {
      const std::string text = at_rim ? note_of(order, other.value_or(step.front()), hue, rest)
                                      : note_of(order, hue, other, rest);
      const Note note = reader().read(text);
      BOOST_TEST_CONTEXT(text) {
        BOOST_REQUIRE((note.wine().colour == order.colour));
        const int age = age_of(note);
        if (age < 0) continue;
        BOOST_CHECK_GE(age, youngest);
        of_step = std::max(of_step, age);
      }
    }
    youngest = std::max(youngest, of_step);
  }
}

}  // namespace

BOOST_AUTO_TEST_SUITE(judge_maturity)

BOOST_AUTO_TEST_CASE(the_hues_are_read_where_they_are_put) {
  for (const Order& order : orders())
    for (const auto& step : order.from_young)
      for (const Hue hue : step) {
        const Note note = reader().read(note_of(order, hue, hue, ""));
        bool core = false, rim = false;
        for (const Sight& sight : note.sight()) {
          core = core || (sight.hue == hue && sight.part == SightPart::core);
          rim = rim || (sight.hue == hue && sight.part == SightPart::rim);
        }
        BOOST_TEST_CONTEXT(note.text()) {
          BOOST_CHECK(core);
          BOOST_CHECK(rim);
        }
      }
}

BOOST_AUTO_TEST_CASE(browner_never_makes_it_younger) {
  for (const Order& order : orders())
    for (const char* rest : company) {
      check_order(order, false, std::nullopt, rest);
      for (const auto& step : order.from_young) {
        check_order(order, false, step.front(), rest);
        check_order(order, true, step.front(), rest);
      }
    }
}

// One cue of any kind there is; a note of one aroma, one hue, one word.
BOOST_AUTO_TEST_CASE(no_single_cue_reaches_late) {
  std::vector<std::string> texts{"Leather.", "Fully mature.", "Over the hill.", "Past its best.",
                                 "Dried fig.", "Red wine. A wide rim.", "Rim 12 mm."};
  for (const Order& order : orders())
    for (const auto& step : order.from_young)
      for (const Hue hue : step) {
        texts.push_back(note_of(order, hue, std::nullopt, ""));
        texts.push_back("A " + std::string(order.wine) + ", " + std::string(name_of(hue)) + " at the rim.");
      }
  for (const std::string& text : texts) BOOST_TEST_CONTEXT(text) {
    const Note note = reader().read(text);
    if (note.maturity().stage) BOOST_CHECK((note.maturity().stage->second != Stage::late));
  }
}

BOOST_AUTO_TEST_CASE(aromas_alone_never_reach_late) {
  BOOST_TEST(stage_of("Leather, truffle, forest floor, mushroom, wet leaves, saddle soap.") ==
             "mid-life");
}

BOOST_AUTO_TEST_CASE(both_sides_are_listed_in_order) {
  const Note note = reader().read("Ruby core, brick rim. Fresh cherries, leather.");
  BOOST_REQUIRE(note.maturity().stage);
  bool older = false, younger = false;
  Span last{0, 0};
  for (const Evidence& one : note.maturity().evidence) {
    (one.points_to == PointsTo::older ? older : younger) = true;
    BOOST_TEST(!(one.span < last));
    BOOST_TEST(!one.because.empty());
    last = one.span;
  }
  BOOST_TEST(older);
  BOOST_TEST(younger);
}

// Neogi 1985; Venerus and Nieto 2015, Sci. Rep. 5:16162: tears come of ethanol and surface
// tension. Hänig 1901: no part of the tongue is tied to a taste.
BOOST_AUTO_TEST_CASE(tears_and_tongue_places_count_for_nothing) {
  for (const char* note : {"Garnet core, brick rim. Leather.", "Deep purple. Violets.", "Pear.",
                           "Straw, pale. Lemon zest, crisp.", "Damp cardboard."})
    for (const char* myth :
         {" Slow, thick tears.", " Quick legs.", " Legs for days.", " Church windows on the glass.",
          " Heavy tears, so a great wine.", " Felt at the tip of the tongue.",
          " It works at the back of the tongue.", " All along the sides of the tongue."}) {
      const Note plain = reader().read(note), with = reader().read(std::string(note) + myth);
      BOOST_TEST_CONTEXT(note << myth) {
        BOOST_TEST((plain.maturity().stage == with.maturity().stage));
        BOOST_TEST(plain.maturity().evidence.size() == with.maturity().evidence.size());
        BOOST_TEST((plain.condition().verdict == with.condition().verdict));
        BOOST_TEST(plain.remarks().size() == with.remarks().size());
        for (std::size_t d = 0; d < dimension_count; ++d)
          BOOST_TEST((plain.structure()[static_cast<Dimension>(d)].range ==
                      with.structure()[static_cast<Dimension>(d)].range));
      }
    }
}

BOOST_AUTO_TEST_CASE(oak_is_not_age) {
  for (const char* text : {"Cedar, vanilla, toast.", "Cigar box and clove.", "Coconut, sawdust.",
                           "Brioche, bread dough.", "New oak, a lot of it."})
    BOOST_TEST(stage_of(text) == "none");
}

BOOST_AUTO_TEST_CASE(an_overlay_weighs_anew) {
  const Overlay overlay = Overlay::parse(R"(
[[evidence]]
id = "aroma.ageing"
cue = "aroma"
values = ["ageing"]
points_to = "older"
weight = 0
because = "an aroma of ageing"
)");
  const Reader silent(Lexicon::house().overlaid(overlay));
  BOOST_TEST(reader().read("Leather.").maturity().evidence.size() == 1u);
  BOOST_TEST(silent.read("Leather.").maturity().evidence.empty());
  BOOST_TEST(silent.read("Red wine, brick at the rim.").maturity().evidence.size() == 1u);
}

BOOST_AUTO_TEST_CASE(what_evidence_names_must_be_there) {
  const auto problems_of = [](const std::string& line) {
    const Overlay overlay = Overlay::parse(
        "[[evidence]]\nid = \"mine\"\npoints_to = \"older\"\nbecause = \"so\"\n" + line);
    try {
      (void)Lexicon::house().overlaid(overlay);
    } catch (const Error& error) {
      return std::string(error.what());
    }
    return std::string();
  };
  BOOST_TEST(problems_of("cue = \"core\"\nvalues = [\"garnit\"]\n").find("garnit") != std::string::npos);
  BOOST_TEST(problems_of("cue = \"words\"\nvalues = [\"matur\"]\n").find("matur") != std::string::npos);
  BOOST_TEST(problems_of("cue = \"fruit\"\nvalues = [\"dried\"]\nunless = [\"Apasimento\"]\n")
                 .find("Apasimento") != std::string::npos);
  BOOST_TEST(problems_of("cue = \"core\"\nvalues = [\"garnet\"]\nweight = 12\n").find("weight") !=
             std::string::npos);
  BOOST_TEST(problems_of("cue = \"core\"\nvalues = [\"garnet\"]\n").empty());
}

BOOST_AUTO_TEST_CASE(a_stated_age_is_held_against_what_it_seems) {
  const Note older = reader().read("Red wine, 3 years old. Brick rim, leather.");
  BOOST_TEST(has_remark(older, "older-than-stated"));
  const Note younger = reader().read("Red wine, 20 years old. Purple rim, violets.");
  BOOST_TEST(has_remark(younger, "younger-than-stated"));
  for (const char* text : {"Red wine, 3 years old. Purple rim.", "Red wine, 20 years old. Brick rim.",
                           "Red wine, 8 years old. Brick rim, leather.", "Red wine, 3 years old.",
                           "Ruby. Drink within 3 years. Leather, brick rim."}) {
    const Note note = reader().read(text);
    BOOST_TEST_CONTEXT(text) {
      BOOST_TEST(!has_remark(note, "older-than-stated"));
      BOOST_TEST(!has_remark(note, "younger-than-stated"));
    }
  }
  for (const Remark& one : older.remarks())
    if (one.id == "older-than-stated")
      BOOST_TEST(one.text == "Reads older than its stated 3 years: brick rim on a red, an aroma of ageing.");
}

// The library reads no clock: a vintage speaks only where the caller gives the year.
BOOST_AUTO_TEST_CASE(a_vintage_needs_the_year_of_tasting) {
  const std::string text = "2022. Garnet core, brick rim. Leather, truffle.";
  BOOST_TEST(!has_remark(reader().read(text), "older-than-stated"));
  ReaderOptions options;
  options.tasting_year = 2024;
  const Reader dated(Lexicon::house(), options);
  BOOST_TEST(has_remark(dated.read(text), "older-than-stated"));
  BOOST_TEST(!has_remark(dated.read("2001. Garnet core, brick rim. Leather, truffle."), "older-than-stated"));
  BOOST_TEST(has_remark(dated.read("2001. Deep purple, violets."), "younger-than-stated"));
  BOOST_TEST(!has_remark(dated.read("2022, beside the 2010. Garnet, brick rim. Leather."), "older-than-stated"));
}

BOOST_AUTO_TEST_SUITE_END()
