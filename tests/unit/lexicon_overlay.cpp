#include <boost/test/unit_test.hpp>

#include "unit/lexicon_support.hpp"

using namespace lexicon_test;

namespace {

Lexicon base() { return Lexicon::from_blob(build_text(estate + english).blob); }

std::string id_of(const Lexicon& lexicon, std::string_view form) {
  const auto found = lexicon.find_form(form);
  return found ? std::string(found->id()) : std::string();
}

std::string problem_of(const Lexicon& lexicon, const std::string& toml) {
  try {
    lexicon.overlaid(Overlay::parse(toml, "mine.toml"));
  } catch (const Error& error) {
    return error.problems().empty() ? error.what() : error.problems().front().to_string();
  }
  return {};
}

}  // namespace

BOOST_AUTO_TEST_SUITE(lexicon_overlay)

BOOST_AUTO_TEST_CASE(adds_words_and_leaves_the_lexicon_below_alone) {
  const Lexicon below = base();
  const std::string before = below.to_blob();
  const Lexicon above = below.overlaid(Overlay::parse(R"(
[[descriptor]]
id = "hill-bramble"
parents = ["currants"]
forms = ["hill bramble"]
[[descriptor]]
id = "blackcurrant"
extends = true
forms = ["Zwartbes"]
)"));
  BOOST_TEST((below.to_blob() == before));
  BOOST_TEST(above.digest() != below.digest());
  BOOST_TEST(above.name() == below.name());
  BOOST_TEST(id_of(above, "hill brambles") == "hill-bramble");
  BOOST_TEST(above.find("hill-bramble")->family().id() == "hedgerow");
  BOOST_TEST(id_of(above, "zwartbes") == "blackcurrant");
  BOOST_TEST(id_of(above, "zwartbess") == "");   // by the rules of the lexicon below
  BOOST_TEST(!below.find_form("zwartbes"));
  for (const char* form : {"cassis", "black currants", "cassis-like", "creme de cassis"})
    BOOST_TEST(id_of(above, form) == "blackcurrant");
  BOOST_TEST(above.find("blackcurrant")->parents().size() == 2u);
  BOOST_TEST(above.find("blackcurrant")->compounds() == below.find("blackcurrant")->compounds(),
             boost::test_tools::per_element());
  for (std::size_t i = 0; i < below.descriptor_count(); ++i)
    BOOST_TEST(above.descriptor_at(i).id() == below.descriptor_at(i).id());
}

BOOST_AUTO_TEST_CASE(an_empty_overlay_keeps_every_form) {
  const Lexicon below = base();
  const Lexicon above = below.overlaid(Overlay::parse("# nothing\n"));
  const Lexicon twice = above.overlaid(Overlay::parse("# nothing\n"));
  BOOST_TEST((above.to_blob() == twice.to_blob()));
  const CompiledLexicon& a = *below.compiled();
  const CompiledLexicon& b = *above.compiled();
  BOOST_TEST(a.nodes.size() == b.nodes.size());
  BOOST_TEST(a.senses.size() == b.senses.size());
  BOOST_TEST(a.words.size() == b.words.size());
  for (const Word& word : a.words)
    if (word.id != 0) BOOST_TEST(b.word(a.string(word.key)) == word.id);
}

BOOST_AUTO_TEST_CASE(problems_stand_in_the_overlay) {
  const Lexicon lexicon = base();
  BOOST_TEST(problem_of(lexicon, "[[descriptor]]\nid = \"x\"\nparents = [\"currents\"]\n") ==
             "mine.toml:3:12: unknown descriptor 'currents' (did you mean 'currants'?)");
  BOOST_TEST(problem_of(lexicon, "[[descriptor]]\nid = \"blackcurrant\"\nparents = [\"orchard\"]\n") ==
             "mine.toml:2:6: the descriptor 'blackcurrant' is declared already, in the lexicon below "
             "(choose another id, or add extends = true to add forms to it)");
  BOOST_TEST(problem_of(lexicon, "[[descriptor]]\nid = \"x\"\nparents = [\"orchard\"]\n"
                                 "forms = [\"cassis\"]\n")
                 .starts_with("mine.toml:4:10: the form 'cassis' of descriptor 'x' is claimed already "
                              "by descriptor 'blackcurrant' in the lexicon below"));
  BOOST_TEST(problem_of(lexicon, "[[descriptor]]\nid = \"currants\"\nextends = true\n"
                                 "parents = [\"blackcurrant\"]\n")
                 .find("cycle") != std::string::npos);
  BOOST_TEST(problem_of(lexicon, "[[descriptor]]\nid = \"nothing\"\nextends = true\n")
                 .find("unknown descriptor 'nothing'") != std::string::npos);
}

BOOST_AUTO_TEST_CASE(an_own_word_wins_over_a_made_one) {
  const Lexicon above = base().overlaid(Overlay::parse(
      "[[descriptor]]\nid = \"many\"\nparents = [\"orchard\"]\nfixed = [\"blackcurrants\"]\n"));
  BOOST_TEST(id_of(above, "blackcurrants") == "many");
  BOOST_TEST(id_of(above, "black currants") == "blackcurrant");
}

BOOST_AUTO_TEST_CASE(own_rules_are_tried_first) {
  const Lexicon below = Lexicon::from_blob(build_text(estate + R"(
[[hue]]
id = "black"
forms = ["cassis"]
[[sense]]
id = "below.named"
forms = ["cassis"]
choose = "hue"
[[sense]]
id = "below.among"
among = ["hue", "descriptor"]
choose = "descriptor"
)").blob);
  const Lexicon above = below.overlaid(Overlay::parse(
      "[[sense]]\nid = \"own\"\nforms = [\"cassis\"]\nchoose = \"descriptor\"\nnext = [\"jam\"]\n"));
  const CompiledLexicon& lexicon = *above.compiled();
  std::string order;
  for (const auto rule : lexicon.range(lexicon.nodes[node_of(lexicon, "cassis")].rules))
    (order += lexicon.string(lexicon.sense_rules[rule].id)) += ' ';
  BOOST_TEST(order == "own below.named below.among ");
}

BOOST_AUTO_TEST_CASE(a_plain_spelling_can_be_claimed_above_its_accented_one) {
  const Lexicon below = Lexicon::from_blob(
      build_text(estate + "[[name]]\nkind = \"place\"\nname = \"R\"\nforms = [\"rosé\"]\n").blob);
  BOOST_TEST(sense(*below.compiled(), "rose") == "name");
  const Lexicon above = below.overlaid(Overlay::parse(
      "[[descriptor]]\nid = \"rose\"\nparents = [\"orchard\"]\nforms = [\"rose\"]\n"));
  BOOST_TEST(sense(*above.compiled(), "rose") == "descriptor rose");
  BOOST_TEST(sense(*above.compiled(), "rosé") == "name");
}

BOOST_AUTO_TEST_CASE(an_overlay_that_was_moved_from_is_a_bad_argument) {
  Overlay overlay = Overlay::parse("");
  const Overlay taken = std::move(overlay);
  BOOST_CHECK_EXCEPTION(base().overlaid(overlay), Error, [](const Error& error) {
    return error.code() == ErrorCode::bad_argument;
  });
}

BOOST_AUTO_TEST_SUITE_END()
