// The tidy text: what it says, and that it reads back.
#include <boost/test/unit_test.hpp>

#include <string>

#include "racking/racking.hpp"
#include "render/tidy_words.hpp"
#include "tidy_reading.hpp"

using namespace racking;

BOOST_AUTO_TEST_SUITE(render_tidy)

// Every range of every scale, in its words, is read as exactly that range and nothing else.
BOOST_AUTO_TEST_CASE(words_of_every_range_read_back) {
  for (std::size_t d = 0; d < dimension_count; ++d)
    for (std::uint8_t low = 1; low <= 5; ++low)
      for (std::uint8_t high = low; high <= 5; ++high) {
        const auto dimension = static_cast<Dimension>(d);
        const std::string words = render::as_sentence(
            render::level_phrase(dimension, render::level_words(dimension, {low, high})));
        const Note note = tests::reader().read(words);
        BOOST_TEST_CONTEXT(words) {
          BOOST_TEST(note.aromas().size() == 0u);
          for (std::size_t other = 0; other < dimension_count; ++other) {
            const auto& range = note.structure()[static_cast<Dimension>(other)].range;
            if (other != d)
              BOOST_TEST(!range.has_value());
            else
              BOOST_TEST((range == Interval{low, high}));
          }
        }
      }
}

// Labels of two ends are written in records; a taster who copies one is understood.
BOOST_AUTO_TEST_CASE(labels_of_two_ends_read_back) {
  for (const Dimension dimension : {Dimension::acidity, Dimension::tannin, Dimension::alcohol,
                                    Dimension::sparkle, Dimension::sweetness})
    for (std::uint8_t low = 1; low <= 5; ++low)
      for (std::uint8_t high = static_cast<std::uint8_t>(low + 1); high <= 5; ++high) {
        const std::string words =
            Note::label(dimension, {low, high}) + " " + std::string(name_of(dimension));
        const Note note = tests::reader().read(words);
        const auto& range = note.structure()[dimension].range;
        BOOST_TEST((range == Interval{low, high}), words);
      }
}

BOOST_AUTO_TEST_CASE(lists_are_english) {
  BOOST_TEST(render::listed({}, "and") == "");
  BOOST_TEST(render::listed({"a"}, "and") == "a");
  BOOST_TEST(render::listed({"a", "b"}, "or") == "a or b");
  BOOST_TEST(render::listed({"a", "b", "c"}, "and") == "a, b and c");
  BOOST_TEST(render::with_article("open nose") == "an open nose");
  BOOST_TEST(render::with_article("brisk sparkle") == "a brisk sparkle");
  BOOST_TEST(render::as_sentence("a ") == "A.");
  BOOST_TEST(render::as_sentence("why?") == "Why?");
  BOOST_TEST(render::as_sentence("pH 3.4") == "pH 3.4.");
  BOOST_TEST(render::as_sentence("") == "");
}

BOOST_AUTO_TEST_CASE(says_each_thing_once_in_its_order) {
  const std::string tidy = tests::reader().read(
      "Deep ruby, brick rim. Nose: cassis, a touch of cedar, cassis again, no butter. "
      "Palate: perhaps plum. Crisp acidity, grippy tannins, long finish. 13.5%. Cork taint?").tidy();
  BOOST_TEST(tidy ==
             "On the nose, blackcurrant and a touch of cedar, but no butter. On the palate, perhaps "
             "plum. Crisp, brisk acidity with firm to gripping tannins. A long to enduring finish. "
             "Deep ruby at the core, brick at the rim. Alcohol 13.5 % vol. Some doubt about its "
             "condition: perhaps cork taint.");
}

BOOST_AUTO_TEST_CASE(keeps_the_taster_s_own_words) {
  const std::string tidy =
      tests::reader().read("Cassis. Quizzaciously splendiferous. Serve with roast lamb.").tidy();
  BOOST_TEST(tidy.find("Quizzaciously") != std::string::npos, tidy);
  BOOST_TEST(tidy.find("Serve with roast lamb.") != std::string::npos, tidy);
}

BOOST_AUTO_TEST_CASE(odd_notes_make_no_empty_sentence) {
  for (const char* text : {"", " ", "...", "?!", "\xFF\xFE", "🍷🍷🍷", "no", "a, b; c", "\n\n-\n"}) {
    const std::string tidy = tests::reader().read(text).tidy();
    BOOST_TEST(tidy.find(" .") == std::string::npos, tidy);
    BOOST_TEST(tidy.find("..") == std::string::npos, tidy);
    BOOST_TEST(tidy.find("“”") == std::string::npos, tidy);
  }
}

BOOST_AUTO_TEST_CASE(same_note_same_text) {
  const Note note = tests::reader().read("Ripe plum and fig, maybe smoke; soft tannins, short.");
  BOOST_TEST(note.tidy() == Note(note).tidy());
}

BOOST_AUTO_TEST_SUITE_END()
