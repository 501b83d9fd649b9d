#include <boost/test/unit_test.hpp>

#include "unit/lexicon_support.hpp"

using namespace lexicon_test;

BOOST_AUTO_TEST_SUITE(lexicon_build)

BOOST_AUTO_TEST_CASE(hierarchy_hangs_below_one_root) {
  const Built built = build_text(estate);
  BOOST_REQUIRE(built.problems.empty());
  const Lexicon lexicon = Lexicon::from_blob(built.blob);
  BOOST_TEST(lexicon.root().id() == "estate");
  BOOST_TEST(!lexicon.root().is_family());
  BOOST_TEST(!lexicon.root().family());
  BOOST_TEST(lexicon.root().path().empty());
  BOOST_TEST(lexicon.families().size() == 2u);
  BOOST_TEST(lexicon.descriptor_count() == 5u);
  const Descriptor cassis = *lexicon.find("blackcurrant");
  BOOST_TEST(cassis.label() == "blackcurrant");
  BOOST_TEST(cassis.family().id() == "hedgerow");
  BOOST_TEST(cassis.path().size() == 3u);
  BOOST_TEST(cassis.path()[1].id() == "currants");
  BOOST_TEST(cassis.parents().size() == 2u);
  BOOST_TEST(cassis.depth() == 4u);
  BOOST_TEST(cassis.has_origin(Origin::ageing));
  BOOST_TEST(!cassis.has_origin(Origin::cask));
  BOOST_TEST((cassis.state() == State::dried));
  BOOST_TEST(cassis.compounds().front() == "4-mercapto-4-methylpentan-2-one (a handbook)");
  BOOST_TEST(lexicon.find("orchard")->children().size() == 1u);
  BOOST_TEST(!lexicon.find("quince"));
  BOOST_TEST(lexicon.find("hedgerow")->family().id() == "hedgerow");
}

BOOST_AUTO_TEST_CASE(forms_are_found_however_they_are_written) {
  const Lexicon lexicon = Lexicon::from_blob(build_text(estate).blob);
  for (const char* form : {"Cassis", "BLACKCURRANT", "black-currant", "Black currant",
                           "cassis like", "crème de cassis", "creme de cassis", "Crème-de-Cassis"})
    BOOST_TEST_CONTEXT(form) {
      BOOST_REQUIRE(lexicon.find_form(form).has_value());
      BOOST_TEST(lexicon.find_form(form)->id() == "blackcurrant");
    }
  for (const char* form : {"", "crème", "cassis de", "black", "currants"})
    BOOST_TEST(!lexicon.find_form(form).has_value());
}

BOOST_AUTO_TEST_CASE(an_entry_may_extend_another_of_the_same_lexicon) {
  const std::string shorthand = R"(
[[descriptor]]
id = "blackcurrant"
extends = true
fixed = ["b'currant", "r/b currant"]
)";
  for (const std::string& toml : {shorthand + estate, estate + shorthand}) {
    const Built built = build_text(toml);
    BOOST_REQUIRE(built.problems.empty());
    const Lexicon lexicon = Lexicon::from_blob(built.blob);
    for (const char* form : {"b'currant", "b\u2019currant", "r/b currant", "cassis"})
      BOOST_TEST(lexicon.find_form(form)->id() == "blackcurrant");
    BOOST_TEST(lexicon.descriptor_count() == 5u);
    BOOST_TEST(lexicon.find("blackcurrant")->parents().size() == 2u);
    BOOST_TEST(lexicon.find("blackcurrant")->family().id() == "hedgerow");
  }
  BOOST_TEST(first_problem(estate + "[[descriptor]]\nid = \"blackcurant\"\nextends = true\n"
                                    "forms = [\"cass\"]\n")
                 .ends_with("unknown descriptor 'blackcurant' (did you mean 'blackcurrant'?)"));
}

BOOST_AUTO_TEST_CASE(inflection_follows_rules_and_exceptions) {
  const Built built = build_text(estate + english + R"(
[[descriptor]]
id = "fig-leaf"
parents = ["orchard"]
forms = ["fig leaf", "leaf", "smoke", "honey", "cherry", "core of apple", "no. 5"]
[[anchor]]
dimension = "acidity"
forms = ["acid"]
)");
  BOOST_REQUIRE(built.problems.empty());
  const CompiledLexicon& lexicon = *built.lexicon;
  BOOST_TEST(sense(lexicon, "fig leaves") == "descriptor fig-leaf inflected");
  BOOST_TEST(sense(lexicon, "fig leafs") == "");
  BOOST_TEST(sense(lexicon, "leafy") == "");
  BOOST_TEST(sense(lexicon, "cherries") == "descriptor fig-leaf inflected");
  BOOST_TEST(sense(lexicon, "honeys") == "descriptor fig-leaf inflected");
  BOOST_TEST(sense(lexicon, "smoky") == "descriptor fig-leaf derived");
  BOOST_TEST(sense(lexicon, "cores of apple") == "descriptor fig-leaf inflected");
  BOOST_TEST(sense(lexicon, "core of apples") == "");
  BOOST_TEST(sense(lexicon, "no. 5s") == "");
  BOOST_TEST(sense(lexicon, "black currants") == "descriptor blackcurrant inflected");
  BOOST_TEST(sense(lexicon, "cassis-like") == "descriptor blackcurrant adjective");
  BOOST_TEST(sense(lexicon, "acids") == "anchor inflected");
  BOOST_TEST(sense(lexicon, "acidy") == "");
}

BOOST_AUTO_TEST_CASE(made_forms_yield_to_claimed_ones) {
  const Built built = build_text(estate + english + R"(
[[descriptor]]
id = "made"
parents = ["orchard"]
forms = ["apple", "tin", "jam", "cork", "corn"]
[[descriptor]]
id = "claimed"
parents = ["orchard"]
fixed = ["apples"]
[[known]]
class = "function"
forms = ["tins"]
[[known]]
class = "talk"
forms = ["jams", "corks", "corny"]
[[cue]]
id = "state.jam"
role = "here"
sets = {state = "cooked"}
forms = ["jamy"]
)");
  BOOST_REQUIRE(built.problems.empty());
  BOOST_TEST(sense(*built.lexicon, "apples") == "descriptor claimed");
  BOOST_TEST(sense(*built.lexicon, "tins") == "known");
  BOOST_TEST(sense(*built.lexicon, "jams") == "descriptor made inflected");
  BOOST_TEST(sense(*built.lexicon, "corny") == "descriptor made derived");
  BOOST_TEST(sense(*built.lexicon, "jamy") == "cue, descriptor made derived");
}

BOOST_AUTO_TEST_CASE(accents_are_kept_apart_only_where_both_are_words) {
  const Built built = build_text(estate + R"(
[[descriptor]]
id = "flower"
parents = ["orchard"]
fixed = ["rose", "pâté", "crème brûlée", "creme"]
[[name]]
kind = "place"
name = "Rosé"
forms = ["rosé", "rosé wine"]
)");
  BOOST_REQUIRE(built.problems.empty());
  const CompiledLexicon& lexicon = *built.lexicon;
  BOOST_TEST(sense(lexicon, "rose") == "descriptor flower");
  BOOST_TEST(sense(lexicon, "rosé") == "name");
  BOOST_TEST(sense(lexicon, "rose wine") == "name stripped");
  BOOST_TEST(lexicon.word("pate") == lexicon.word("pâté"));
  BOOST_TEST(lexicon.word("creme") != lexicon.word("crème"));
  BOOST_TEST(sense(lexicon, "creme brulee") == "descriptor flower stripped");
  BOOST_TEST(sense(lexicon, "crème brûlée") == "descriptor flower");
}

BOOST_AUTO_TEST_CASE(references_are_checked) {
  BOOST_TEST(first_problem(estate + "[[descriptor]]\nid = \"x\"\nparents = [\"orchrad\"]\n") ==
             "test.toml:25:12: unknown descriptor 'orchrad' (did you mean 'orchard'?)");
  BOOST_TEST(first_problem(estate + "[[descriptor]]\nid = \"x\"\nparents = [\"estate\"]\n") ==
             "test.toml:25:12: only families stand right below the root (name its family)");
  BOOST_TEST(first_problem(estate + "[[descriptor]]\nid = \"x\"\n") ==
             "test.toml:23:1: the descriptor has no parents "
             "(add parents = [\"…\"], its family or another descriptor first)");
  BOOST_TEST(first_problem(estate + "[[family]]\nid = \"orchard\"\n") ==
             "test.toml:24:6: the descriptor 'orchard' is declared already, at test.toml:6:6 "
             "(choose another id, or add extends = true to add forms to it)");
  BOOST_TEST(first_problem(estate + "[[suspicion]]\nfault = \"cork taint\"\nany = [\"damp\"]\n")
                 .starts_with("test.toml:25:8: unknown descriptor 'damp'"));
  BOOST_TEST(first_problem(estate + "[[family]]\nid = \"x\"\ncompounds = [\"4mpp\"]\n") ==
             "test.toml:25:14: unknown compound '4mpp' (did you mean '4mmp'?)");
}

BOOST_AUTO_TEST_CASE(cycles_are_shown_whole) {
  const std::string toml = "[[family]]\nid = \"f\"\n"
      "[[descriptor]]\nid = \"a\"\nparents = [\"f\", \"b\"]\n"
      "[[descriptor]]\nid = \"b\"\nparents = [\"c\"]\n"
      "[[descriptor]]\nid = \"c\"\nparents = [\"a\"]\n"
      "[[descriptor]]\nid = \"d\"\nparents = [\"d\"]\n";
  const Built built = build_text(toml);
  BOOST_REQUIRE(built.problems.size() == 2u);
  BOOST_TEST(built.problems[0].to_string() ==
             "test.toml:11:1: the parents form a cycle: a → b → c → a "
             "(remove a parent of one of them)");
  BOOST_TEST(built.problems[1].message == "the parents form a cycle: d → d");
}

BOOST_AUTO_TEST_CASE(a_form_claimed_twice_is_a_problem) {
  BOOST_TEST(first_problem(estate + "[[descriptor]]\nid = \"x\"\nparents = [\"orchard\"]\n"
                                    "fixed = [\"Cassis\"]\n") ==
             "test.toml:26:10: the form 'cassis' of descriptor 'x' is claimed already by "
             "descriptor 'blackcurrant' at test.toml:14:26 (leave it to one of them)");
  const std::string hue = "[[hue]]\nid = \"black\"\nforms = [\"cassis\"]\n";
  BOOST_TEST(first_problem(estate + hue).find("can mean hue 'black' or descriptor 'blackcurrant'") !=
             std::string::npos);
  const std::string named = "[[sense]]\nid = \"s\"\nforms = [\"cassis\"]\nchoose = \"hue\"\n";
  const std::string among =
      "[[sense]]\nid = \"s\"\namong = [\"hue\", \"descriptor\"]\nchoose = \"hue\"\n";
  const std::string other =
      "[[sense]]\nid = \"s\"\namong = [\"trait\", \"descriptor\"]\nchoose = \"trait\"\n";
  BOOST_TEST(first_problem(estate + hue + named) == "");
  BOOST_TEST(first_problem(estate + hue + among) == "");
  BOOST_TEST(first_problem(estate + hue + other) != "");
  BOOST_TEST(first_problem("[[level]]\nforms = [\"firm\"]\ntannin = [4, 4]\n"
                           "[[trait]]\nid = \"firm\"\nforms = [\"firm\"]\n") == "");
  BOOST_TEST(first_problem("[[anchor]]\ndimension = \"body\"\nforms = [\"!\", \" \"]\n") ==
             "test.toml:3:15: the form is empty (write a word, or leave it out)");
}

BOOST_AUTO_TEST_CASE(rules_that_name_a_form_come_first) {
  const Built built = build_text(estate + R"(
[[hue]]
id = "black"
forms = ["cassis", "blackcurrant"]
[[sense]]
id = "sense.default"
among = ["hue", "descriptor"]
choose = "descriptor"
[[sense]]
id = "sense.rim"
forms = ["cassis"]
choose = "hue"
next = ["rim"]
phase = ["sight"]
capital = false
)");
  BOOST_REQUIRE(built.problems.empty());
  const CompiledLexicon& lexicon = *built.lexicon;
  const auto rules = [&](std::string_view form) {
    std::vector<std::string> out;
    for (const auto rule : lexicon.range(lexicon.nodes[node_of(lexicon, form)].rules))
      out.emplace_back(lexicon.string(lexicon.sense_rules[rule].id));
    return out;
  };
  const std::vector<std::string> both{"sense.rim", "sense.default"}, one{"sense.default"};
  BOOST_TEST(rules("cassis") == both, boost::test_tools::per_element());
  BOOST_TEST(rules("blackcurrant") == one, boost::test_tools::per_element());
  BOOST_TEST(rules("black currant").empty());
  const SenseRuleRecord& rim = lexicon.sense_rules[1];
  BOOST_TEST(rim.choose == kind_bit(SenseKind::hue));
  BOOST_TEST(rim.phases == 1u);
  BOOST_TEST(rim.capital == 2u);
  BOOST_TEST(lexicon.range(rim.next).front() == lexicon.word("rim"));
}

BOOST_AUTO_TEST_CASE(records_hold_what_was_written) {
  const Built built = build_text(estate + R"(
[[phrase]]
forms = ["grippy"]
dimension = "tannin"
range = [4, 5]
traits = ["gum-drying"]
[[level]]
forms = ["crisp"]
acidity = [4, 4]
alone = "acidity"
trait = "crisp"
[[sight]]
kind = "depth"
range = [4, 4]
forms = ["deep"]
[[fault]]
id = "cork taint"
forms = ["corked"]
hints = ["stripped of fruit"]
confused_with = ["earthy taint"]
caution = "A note is no laboratory result."
[[suspicion]]
fault = "cork taint"
any = ["blackcurrant"]
forms_with = ["fruit stripped out"]
[[cue]]
id = "negation.no"
role = "forward"
sets = {stance = "denied", strength = [1, 2], state = ["ripe", "dried"], texture = true}
forms = ["no"]
stops = ["clause", "determiner"]
limit = 12
list = "or"
[[measure]]
id = "alcohol.percent"
kind = "alcohol"
unit = "% vol"
pattern = '(?P<value>[0-9.]+) ?%'
least = 4
frame = "making"
[[name]]
kind = "grape"
name = "Pinot Noir"
forms = ["pinot"]
colour = "red"
)");
  BOOST_REQUIRE(built.problems.empty());
  const CompiledLexicon& lexicon = *built.lexicon;
  BOOST_TEST(lexicon.phrases[0].low == 4u);
  BOOST_TEST(lexicon.string(lexicon.traits[lexicon.range(lexicon.phrases[0].traits)[0]].id) ==
             "gum-drying");
  BOOST_TEST(lexicon.levels[0].high[0] == 4u);
  BOOST_TEST(lexicon.levels[0].high[1] == 0u);
  BOOST_TEST(lexicon.levels[0].alone == 0u);
  BOOST_TEST(lexicon.string(lexicon.sights[0].value) == "deep");
  BOOST_TEST(sense(lexicon, "corked") == "fault");
  BOOST_TEST(sense(lexicon, "stripped of fruit") == "hint");
  BOOST_TEST(sense(lexicon, "fruit stripped out") == "companion");
  BOOST_TEST(lexicon.suspicions[0].has_companions == 1u);
  const CueRecord& cue = lexicon.cues[0];
  BOOST_TEST(cue.stance == static_cast<unsigned>(Stance::denied));
  BOOST_TEST(cue.when == unset);
  BOOST_TEST(cue.stops == (static_cast<unsigned>(Stop::clause) | static_cast<unsigned>(Stop::determiner)));
  BOOST_TEST(cue.state == static_cast<unsigned>(State::ripe | State::dried));
  BOOST_TEST(cue.strength_high == 2u);
  BOOST_TEST(cue.texture == 1u);
  BOOST_TEST(cue.limit == 12u);
  BOOST_TEST(cue.list == static_cast<unsigned>(lexicon::List::or_));
  BOOST_TEST(lexicon.measures[0].factor == 1.0);
  BOOST_TEST(lexicon.measures[0].least == 4.0);
  BOOST_TEST(lexicon.measures[0].frame == static_cast<unsigned>(Frame::making));
  BOOST_TEST(lexicon.names[0].colour == static_cast<unsigned>(WineColour::red));
  BOOST_TEST(lexicon.names[0].style == unset);
}

BOOST_AUTO_TEST_CASE(similarity_takes_the_deepest_common_node) {
  const Lexicon lexicon = Lexicon::from_blob(build_text(R"(
[[family]]
id = "f"
[[family]]
id = "g"
[[descriptor]]
id = "a"
parents = ["f"]
[[descriptor]]
id = "b"
parents = ["g", "a"]
[[descriptor]]
id = "c"
parents = ["a"]
)").blob);
  const auto at = [&](std::string_view id) { return *lexicon.find(id); };
  BOOST_TEST(lexicon.similarity(at("a"), at("a")) == 1.0);
  BOOST_TEST(lexicon.similarity(at("b"), at("c")) == 2.0 * 3 / (1 + 1 + 2 * 3));
  BOOST_TEST(lexicon.similarity(at("g"), at("c")) == 2.0 * 1 / (1 + 3 + 2 * 1));
  BOOST_TEST(lexicon.similarity(at("g"), Descriptor()) == 0.0);
}

BOOST_AUTO_TEST_SUITE_END()
