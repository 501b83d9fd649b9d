// What a clause speaks of, weighed from its words.
#include <boost/test/unit_test.hpp>

#include <string>
#include <vector>

#include "racking/racking.hpp"

using racking::Frame;
using racking::Lexicon;
using racking::Note;
using racking::Overlay;
using racking::Reader;

namespace {

// Words that no other rule knows, so that the weights alone decide.
const Reader& reader() {
  static const Reader one(Lexicon::house().overlaid(Overlay::parse(
      "[[tell]]\nof = \"pairing\"\nweight = 3\nwords = [\"zakuska\"]\n"
      "[[tell]]\nof = \"pairing\"\nwords = [\"samovar\", \"plum\"]\n"
      "[[tell]]\nof = \"place\"\nweight = 2\nwords = [\"kurgan\", \"steppe\"]\n"
      "[[tell]]\nof = \"tasted\"\nwords = [\"zounds\"]\n"
      "[[tell]]\nof = \"tasted\"\nweight = 1\nwords = [\"lo\"]\n")));
  return one;
}

std::vector<std::string> aromas(const std::string& text) {
  const Note note = reader().read(text);
  std::vector<std::string> out;
  for (const racking::Aroma& aroma : note.aromas()) out.emplace_back(note.text(aroma.span));
  return out;
}

using Words = std::vector<std::string>;

}  // namespace

BOOST_AUTO_TEST_SUITE(clause_frames)

BOOST_AUTO_TEST_CASE(words_together_set_a_clause_aside) {
  BOOST_TEST(aromas("Zakuska, samovar and dill. Cherry.") == Words{"Cherry"}, boost::test_tools::per_element());
  BOOST_TEST(aromas("A kurgan on the steppe among wild thyme; cherry.") == Words{"cherry"},
             boost::test_tools::per_element());
}

BOOST_AUTO_TEST_CASE(too_little_weight_sets_nothing_aside) {
  BOOST_TEST(aromas("Zakuska and dill.") == Words{"dill"}, boost::test_tools::per_element());
  BOOST_TEST(aromas("A kurgan, wild thyme.") == Words{"wild thyme"}, boost::test_tools::per_element());
}

BOOST_AUTO_TEST_CASE(weights_of_two_frames_do_not_add_up) {
  BOOST_TEST(aromas("A zakuska and a kurgan, dill.") == Words{"dill"}, boost::test_tools::per_element());
}

BOOST_AUTO_TEST_CASE(what_may_be_a_smell_tells_nothing_alone) {
  BOOST_TEST(aromas("Plum, plum, plum and plum.").size() == 4u);
  BOOST_TEST(aromas("Zakuska and plum.").empty());
}

BOOST_AUTO_TEST_CASE(what_is_tasted_is_kept) {
  for (const char* text : {"Zakuska, samovar and dill on the nose.", "A hint of zakuska, samovar and dill.",
                           "Zounds zakuska samovar dill."})
    BOOST_TEST(aromas(text) == Words{"dill"}, boost::test_tools::per_element());
}

BOOST_AUTO_TEST_CASE(what_may_be_tasted_is_kept_unless_a_word_is_strong) {
  BOOST_TEST(aromas("Lo, a zakuska, a samovar and dill.").empty());
  BOOST_TEST(aromas("Lo a kurgan on a steppe with dill.") == Words{"dill"}, boost::test_tools::per_element());
  BOOST_TEST(aromas("Lo a zakuska by a samovar with dill.").empty());
  BOOST_TEST(aromas("Zakuska with a bit of dill by a samovar.").empty());
}

BOOST_AUTO_TEST_CASE(a_bare_list_takes_more) {
  BOOST_TEST(aromas("Dill kurgan, steppe plum.") == (Words{"Dill", "plum"}), boost::test_tools::per_element());
  BOOST_TEST(aromas("A dill kurgan by the steppe.").empty());
}

BOOST_AUTO_TEST_CASE(a_clause_ends_where_others_do) {
  BOOST_TEST(aromas("Zakuska, samovar; dill.") == Words{"dill"}, boost::test_tools::per_element());
  BOOST_TEST(aromas("Zakuska, samovar. Dill.") == Words{"Dill"}, boost::test_tools::per_element());
  BOOST_TEST(aromas("Zakuska and samovar but dill here.") == Words{"dill"}, boost::test_tools::per_element());
  // A list that goes on without such words is no longer of it.
  BOOST_TEST(aromas("Zakuska and samovar, dill, cherry.") == (Words{"dill", "cherry"}),
             boost::test_tools::per_element());
}

BOOST_AUTO_TEST_CASE(a_cue_says_more_than_weights) {
  const Note note = reader().read("Goes with dill from a kurgan on the steppe.");
  BOOST_REQUIRE(!note.aside_aromas().empty());
  BOOST_TEST((note.aside_aromas().front().frame == Frame::pairing));
}

BOOST_AUTO_TEST_CASE(the_words_are_named_in_the_explanation) {
  const Note note = reader().read("Zakuska, samovar and dill.");
  BOOST_REQUIRE(note.aside_aromas().size() == 1u);
  const auto why = note.explain(note.aside_aromas().front());
  BOOST_TEST(why.text.find("Zakuska") != std::string::npos, why.text);
}

BOOST_AUTO_TEST_CASE(problems_of_the_data_are_located) {
  const auto problem = [](const char* toml) -> std::string {
    try {
      Lexicon::house().overlaid(Overlay::parse(toml));
    } catch (const racking::Error& error) {
      return error.what();
    }
    return {};
  };
  BOOST_TEST(problem("[[tell]]\nof = \"pairing\"\nweight = 4\nwords = [\"zakuska\"]\n")
                 .find("'weight' must be 1, 2 or 3") != std::string::npos);
  BOOST_TEST(problem("[[tell]]\nof = \"vessel\"\nweight = 2\nwords = [\"zakuska\"]\n")
                 .find("have a weight") != std::string::npos);
  BOOST_TEST(problem("[[cue]]\nid = \"mine\"\nrole = \"weighed\"\nsets = {frame = \"place\"}\n")
                 .find("must say what it takes") != std::string::npos);
  BOOST_TEST(problem("[[cue]]\nid = \"mine\"\nrole = \"weighed\"\nsets = {frame = \"place\"}\nleast = 2\n"
                     "forms = [\"zakuska\"]\n")
                 .find("a weighed cue has no forms") != std::string::npos);
  BOOST_TEST(problem("[[cue]]\nid = \"mine\"\nrole = \"here\"\nsets = {frame = \"place\"}\n")
                 .find("has no 'forms'") != std::string::npos);
  BOOST_TEST(problem("[[cue]]\nid = \"mine\"\nrole = \"weighed\"\nsets = {frame = \"place\"}\nleast = 51\n")
                 .find("1 to 50") != std::string::npos);
}

BOOST_AUTO_TEST_SUITE_END()
