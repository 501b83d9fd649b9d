// What a text is as a whole: its language, no note, several wines.
#include <boost/test/unit_test.hpp>

#include <algorithm>
#include <string>
#include <vector>

#include "racking/racking.hpp"

namespace {

const racking::Reader& reader() {
  static const racking::Reader one;
  return one;
}

std::vector<std::string> parts(const racking::Note& note, const std::string& code) {
  std::vector<std::string> found;
  for (const racking::TextProblem& problem : note.problems())
    if (problem.code == code) found.emplace_back(note.text(problem.span));
  return found;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(whole_note)

BOOST_AUTO_TEST_CASE(languages_are_recognised) {
  const std::pair<const char*, const char*> notes[] = {
      {"fr", "Nez de fraise et de cassis, bouche ronde avec des tanins souples."},
      {"it", "Al naso frutti rossi e viola, in bocca è morbido con tannini fini."},
      {"es", "En nariz fruta negra y madera, en boca es largo con taninos suaves."},
      {"de", "In der Nase Kirsche und etwas Rauch, am Gaumen saftig mit feiner Säure."},
      {"pt", "No nariz fruta e madeira, na boca é fresco com taninos macios."},
      {"en", "Cassis, cedar, grippy."},
      {"en", "A nose of cassis, garrigue and cuir; very Domaine de la Tour."},
      {"en", "Domaine de la Tour Rouge, Clos du Bois 2019. Plum."},
      {"en", ""},
      {"en", "plum"}};
  for (const auto& [language, text] : notes) BOOST_TEST_CONTEXT(text) {
    const racking::Note note = reader().read(text);
    BOOST_TEST(note.language() == language);
    BOOST_TEST(parts(note, "other-language").size() == (std::string(language) == "en" ? 0u : 1u));
  }
}

BOOST_AUTO_TEST_CASE(another_language_gives_only_what_is_shared) {
  const racking::Note note =
      reader().read("Nez de rose et de cassis, avec du pain et de la main, bouche ronde et longue.");
  BOOST_TEST_REQUIRE(note.aromas().size() == 1u);
  BOOST_TEST(note.text(note.aromas()[0].span) == "cassis");
  BOOST_TEST(note.readings().empty());
  BOOST_TEST(note.coverage() < 0.3);
}

BOOST_AUTO_TEST_CASE(what_is_no_note_is_set_aside) {
  for (const char* text : {"Preheat the oven, whisk the eggs with sugar and grate a lemon. Simmer for an hour.",
                           "Shopping: batteries, honey, birthday candles, bananas",
                           "Invoice 12. Carriage free, payment by invoice. Lemon crates, 12.",
                           "250 g butter\n200 g sugar\n3 eggs\nzest of a lemon, flour",
                           "Hopped twice, this IPA pours cloudy: mango, pine, grapefruit. Best pint of the pub."})
    BOOST_TEST_CONTEXT(text) {
      const racking::Note note = reader().read(text);
      BOOST_TEST(parts(note, "no-tasting-note").size() == 1u);
      BOOST_TEST(note.aromas().empty());
      BOOST_TEST(note.readings().empty());
      BOOST_TEST(note.coverage() == 0.0);
    }
  const racking::Note recipe = reader().read("Preheat the oven, whisk the eggs, simmer. Lemon.");
  BOOST_TEST_REQUIRE(recipe.problems().size() == 1u);
  BOOST_TEST(recipe.problems()[0].message ==
             "this does not seem to speak of a wine: its words are of the kitchen (Preheat, oven, whisk); "
             "what it names is set aside");
}

BOOST_AUTO_TEST_CASE(a_terse_note_is_a_note) {
  for (const char* text : {"lemon, butter, salt. crisp.", "Butter, eggs, flour: brioche.", "honey",
                           "Plum. Bought at the shop, delivery Monday, paid by voucher. Grippy, long finish.",
                           "The dog ate the label. Cherry on the nose, dry, tannic.",
                           "Dinner at my uncle's, rain, the train home late. Cherry, cedar.",
                           "Lovely with sausages, mash and cabbage. Plum, firm tannins."})
    BOOST_TEST_CONTEXT(text) {
      const racking::Note note = reader().read(text);
      BOOST_TEST(parts(note, "no-tasting-note").empty());
      BOOST_TEST(!note.aromas().empty());
      BOOST_TEST(note.coverage() > 0.0);
    }
}

BOOST_AUTO_TEST_CASE(several_wines_are_split) {
  const racking::Note note = reader().read("Wine one: plum, grippy. Wine two: lemon and lime, crisp.");
  const std::vector<std::string> expected = {"Wine one: plum, grippy.", "Wine two: lemon and lime, crisp."};
  BOOST_TEST(parts(note, "several-wines") == expected, boost::test_tools::per_element());
  BOOST_TEST(note.aromas().size() == 3u);   // the readings stay

  const auto count = [](const char* text) { return parts(reader().read(text), "several-wines").size(); };
  BOOST_TEST(count("1. Plum, cedar, firm tannins. 2. Lemon, lime, crisp. 3. Fig, honey, sweet.") == 3u);
  BOOST_TEST(count("Harrow Ford 2015: plum, cedar. Harrow Ford 2018: cherry, violets.") == 2u);
  BOOST_TEST(count("White: pear, crisp. Red: plum, grippy.") == 2u);
  BOOST_TEST(count("The first was all plum and jam. The second had lime and chalk.") == 2u);
  BOOST_TEST(count("wine one plum and cedar wine two lemon wine three fig") == 3u);
  BOOST_TEST(count("W1 lime, apple; W2 honey, peach; W3 walnut, fig") == 3u);
  BOOST_TEST(count("- Grüner 2021: pepper, pear\n- Riesling 2020: slate, lime") == 2u);
  BOOST_TEST(count("Two at the bar: a Picpoul with lemon, a Malbec with plum.") == 2u);
  BOOST_TEST(count("One smells of jasmine. The other smells of hay and wax.") == 2u);
}

BOOST_AUTO_TEST_CASE(one_wine_is_not_split) {
  for (const char* text : {"1. Nose: plum, cedar. 2. Palate: lemon, lime.", "1. Nose\nplum, cedar\n2. Palate\nfig, lime",
                           "N. brioche almond apple. P. lively fizz, brisk acidity.",
                           "Plum, cedar. Unlike the 2014, which was all jam, this is fresh.",
                           "Wine 7 of 12. Pear, apple, crisp.", "1. Plum 2. Cedar 3. Lime",
                           "First sip: lime. Second sip: lime, then salt.", "One of us found plum, the other fig.",
                           "A wine of two halves. The first is lime and flint, the second nuts and cream.",
                           "Bottle 3 of 6. Honey, apricot. Bottle 2 was just the same.",
                           "The first bottle was corked; this one is all cherry.",
                           "The Merlot adds plum, the Cabernet adds cassis.",
                           "2019: plum, cedar. Drink from 2025: it needs time."})
    BOOST_TEST_CONTEXT(text) BOOST_TEST(parts(reader().read(text), "several-wines").empty());
}

BOOST_AUTO_TEST_SUITE_END()
