// Forms with slots: what they find, what overlays add, and what is told of those that are wrong.
#include <boost/test/unit_test.hpp>

#include <string>
#include <string_view>
#include <vector>

#include "match/index.hpp"
#include "match/matcher.hpp"
#include "match/mention.hpp"
#include "racking/racking.hpp"
#include "unit/lexicon_support.hpp"

using namespace lexicon_test;

namespace {

const std::string slots = R"(
[[slot]]
id = "cant"
words = ["can't", "cannot", "couldn't"]
[[slot]]
id = "find"
words = ["find", "smell", "get"]
)";

std::string cue(const std::string& id, const std::string& forms) {
  return "[[cue]]\nid = \"" + id + "\"\nrole = \"forward\"\nsets = {stance = \"denied\"}\nforms = [" +
         forms + "]\n";
}

// "cue id: the words" for each cue found, in order.
std::string found(const CompiledLexicon& lexicon, const std::string& note) {
  const match::MatchIndex index(lexicon);
  text::TokenizedText tokens;
  text::tokenize(note, tokens);
  std::vector<match::KnownWord> known;
  std::vector<match::Mention> mentions;
  std::vector<std::uint32_t> mention_at;
  match::find_mentions(tokens, index, known, mentions, mention_at);
  std::string out;
  for (const match::Mention& mention : mentions) {
    const Sense* sense = match::sense_of(lexicon, mention.node, SenseKind::cue);
    if (sense == nullptr) continue;
    const std::uint32_t begin = tokens.tokens[mention.first].span.begin;
    const std::uint32_t end = tokens.tokens[mention.last - 1].span.end;
    if (!out.empty()) out += "; ";
    out.append(lexicon.string(lexicon.cues[sense->index].id)).append(": ");
    out += note.substr(begin, end - begin);
  }
  return out;
}

std::string found(const std::string& toml, const std::string& note) {
  const Built built = build_text(estate + toml);
  for (const Problem& problem : built.problems) BOOST_ERROR(problem.to_string());
  return built.lexicon == nullptr ? std::string() : found(*built.lexicon, note);
}

// All problems, one a line.
std::string problem_of(const std::string& toml) {
  std::string out;
  for (const Problem& problem : build_text(estate + toml).problems) out += problem.to_string() + '\n';
  return out;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(lexicon_slots)

BOOST_AUTO_TEST_CASE(a_slot_is_any_one_of_its_words) {
  const std::string toml = slots + cue("none", R"("i {cant} {find} any")");
  BOOST_TEST(found(toml, "I can't find any") == "none: I can't find any");
  BOOST_TEST(found(toml, "Well, I couldn't smell any cassis.") == "none: I couldn't smell any");
  BOOST_TEST(found(toml, "I can't \u2014 find any") == "");
  BOOST_TEST(found(toml, "I can\u2019t get any") == "none: I can\u2019t get any");
  BOOST_TEST(found(toml, "I find can't any") == "");
  BOOST_TEST(found(toml, "I can't. Find any") == "");
  BOOST_TEST(found(toml, "I can't\n\nfind any") == "");
  BOOST_TEST(found(toml, "I can't find") == "");
  BOOST_TEST(found(toml, "I {cant} {find} any") == "");
}

BOOST_AUTO_TEST_CASE(a_form_may_begin_and_end_with_one) {
  const std::string toml = slots + cue("none", R"("{cant} {find}")") + cue("i", R"("i")");
  BOOST_TEST(found(toml, "cannot smell; couldn't get") == "none: cannot smell; none: couldn't get");
  BOOST_TEST(found(toml, "I can't, I cannot get") == "i: I; i: I; none: cannot get");
}

BOOST_AUTO_TEST_CASE(one_slot_alone_is_each_of_its_words) {
  const std::string toml = slots + cue("alone", R"("{find}")") + cue("other", R"("get")");
  const Built built = build_text(estate + toml);
  BOOST_TEST_REQUIRE(built.lexicon != nullptr);
  BOOST_TEST(sense(*built.lexicon, "smell") == "cue");
  BOOST_TEST(sense(*built.lexicon, "get") == "cue, cue");   // its own first
  BOOST_TEST(found(*built.lexicon, "find, smell, get") == "alone: find; alone: smell; other: get");
}

BOOST_AUTO_TEST_CASE(optional_and_any) {
  const std::string toml = slots + R"([[slot]]
id = "very"
words = ["really", "quite"]
)" + cue("none", R"("{cant} {very?} {find}", "as {*} as", "not {*?} {*?} here")");
  BOOST_TEST(found(toml, "can't find") == "none: can't find");
  BOOST_TEST(found(toml, "can't quite find") == "none: can't quite find");
  BOOST_TEST(found(toml, "can't really quite find") == "");
  BOOST_TEST(found(toml, "as zzyzx as; as 12 as; as - as; as as") == "none: as zzyzx as; none: as 12 as");
  BOOST_TEST(found(toml, "as can't as") == "none: as can't as");
  BOOST_TEST(found(toml, "not here; not quite here; not a thing here; not one single thing here") ==
             "none: not here; none: not quite here; none: not a thing here");
  BOOST_TEST(found(toml, "as. As as") == "");
}

BOOST_AUTO_TEST_CASE(alternatives_in_place) {
  const std::string toml = slots + cue("none", R"("{cant} find {any|a trace of|} {plum|pear?}")");
  for (const char* note : {"can't find", "can't find any", "can't find a trace of", "can't find pear",
                           "cannot find any plum", "couldn't find a trace of pear"})
    BOOST_TEST(found(toml, note) == std::string("none: ") + note);
  BOOST_TEST(found(toml, "can't find a plum") == "none: can't find");
}

BOOST_AUTO_TEST_CASE(longest_wins_then_a_word_of_its_own_then_the_slot_declared_first) {
  const std::string toml = slots + R"([[slot]]
id = "sense"
words = ["smell", "taste"]
)" + cue("slot", R"("i {cant} {find}")") + cue("word", R"("i can't smell")") +
                           cue("second", R"("i {cant} {sense}")") + cue("any", R"("i {*} taste")") +
                           cue("late", R"("i {cant} get")") + cue("longer", R"("i {cant} {find} the least bit")");
  BOOST_TEST(found(toml, "I can't smell") == "word: I can't smell");
  BOOST_TEST(found(toml, "I cannot smell") == "slot: I cannot smell");
  BOOST_TEST(found(toml, "I cannot taste") == "second: I cannot taste");
  BOOST_TEST(found(toml, "I may taste") == "any: I may taste");
  BOOST_TEST(found(toml, "I can't get") == "late: I can't get");
  BOOST_TEST(found(toml, "I can't smell the least bit") == "longer: I can't smell the least bit");
  BOOST_TEST(found(toml, "I can't smell the least") == "word: I can't smell");
}

BOOST_AUTO_TEST_CASE(a_plain_form_goes_on_where_a_slot_could_begin) {
  const std::string toml = slots + cue("slot", R"("as far as i {cant} {find}")") +
                           cue("plain", R"("as far as", "far as i can't say", "i")");
  BOOST_TEST(found(toml, "as far as I can't say") == "plain: as far as; plain: I");
  BOOST_TEST(found(toml, "As far as I couldn't get") == "slot: As far as I couldn't get");
}

BOOST_AUTO_TEST_CASE(slots_of_slots_and_of_names) {
  const std::string toml = slots + R"([[slot]]
id = "seek"
words = ["seek"]
slots = ["find"]
[[slot]]
id = "grape"
names = ["grape", "place"]
[[name]]
kind = "grape"
name = "Blue Wren"
forms = ["blue wren", "wrenne"]
[[name]]
kind = "vessel"
name = "Tun"
forms = ["tun"]
)" + cue("none", R"("{seek} the {grape}")");
  BOOST_TEST(found(toml, "seek the wren, get the wrenne, find the tun") ==
             "none: seek the wren; none: get the wrenne");
}

BOOST_AUTO_TEST_CASE(accents_and_possessives) {
  const std::string toml = R"([[slot]]
id = "cook"
words = ["pâtissier", "cook", "crème"]
)" + cue("none", R"("the {cook} shop", "creme de")");
  BOOST_TEST(found(toml, "the pâtissier shop; the patissier shop; the cook's shop") ==
             "none: the pâtissier shop; none: the patissier shop; none: the cook's shop");
  BOOST_TEST(found(toml, "the creme shop, the crème shop") ==
             "none: the creme shop; none: the crème shop");
}

BOOST_AUTO_TEST_CASE(an_overlay_adds_words_and_uses_slots) {
  const Lexicon below = Lexicon::from_blob(
      build_text(estate + slots + R"([[slot]]
id = "seek"
slots = ["find"]
[[slot]]
id = "grape"
names = ["grape"]
[[name]]
kind = "grape"
name = "Grey Heron"
forms = ["grey heron"]
)" + cue("none", R"("{cant} {seek}", "{find}", "no {grape}")")).blob);
  const Lexicon same = below.overlaid(Overlay::parse(R"([[slot]]
id = "find"
words = ["sniff"]
)"));
  BOOST_TEST(found(*below.compiled(), "can't sniff; sniff") == "");
  BOOST_TEST(found(*same.compiled(), "can't sniff; sniff") == "none: can't sniff; none: sniff");
  BOOST_TEST(found(*same.compiled(), "can't get; get") == "none: can't get; none: get");
  const Lexicon more = same.overlaid(Overlay::parse(R"([[slot]]
id = "cant"
extends = true
words = ["shan't"]
slots = ["mine"]
[[slot]]
id = "mine"
words = ["nohow"]
[[name]]
kind = "grape"
name = "Blue Wren"
forms = ["blue wren"]
)" + cue("mine", R"("{mine} {find}", "we {cant} {find}")")));
  BOOST_TEST(found(*more.compiled(), "shan't sniff; no wren; we shan't get; we nohow smell") ==
             "none: shan't sniff; none: no wren; mine: we shan't get; mine: we nohow smell");
  // Slots keep their order: the house's first.
  BOOST_TEST(found(*more.compiled(), "nohow find") == "none: nohow find");
}

BOOST_AUTO_TEST_CASE(known_words_hints_and_companions_may_have_slots) {
  const Built built = build_text(estate + slots + R"(
[[known]]
class = "talk"
forms = ["i {cant} say"]
[[fault]]
id = "cork taint"
forms = ["corked"]
hints = ["{cant} {find} fruit"]
)");
  BOOST_TEST_REQUIRE(built.problems.empty());
  BOOST_TEST(sense(*built.lexicon, "corked") == "fault");
  const Reader reader(Lexicon::from_blob(built.blob));
  BOOST_TEST(reader.read("Cannot smell fruit.").condition().faults.size() == 1u);
}

BOOST_AUTO_TEST_CASE(what_is_wrong_is_told) {
  const auto form = [](const std::string& text) { return problem_of(slots + cue("c", '"' + text + '"')); };
  const auto says = [](const std::string& problem, const std::string& part) {
    BOOST_TEST(problem.find(part) != std::string::npos, '"' + problem + "\" does not say: " + part);
    BOOST_TEST(problem.find("test.toml:") == 0u, problem);
  };
  says(form("i {cnat} see"), "unknown slot 'cnat' (did you mean 'cant'?)");
  says(form("i {Cant} see"), "unknown slot 'Cant' (did you mean 'cant'?)");
  says(form("i {cant see"), "is not closed");
  says(form("i cant} see"), "is not closed");
  says(form("i {{cant}} see"), "is not closed");
  says(form("i {} see"), "is empty");
  says(form("i {?} see"), "is empty");
  says(form("i un{cant} see"), "touches another word");
  says(form("i {cant}ed see"), "touches another word");
  says(form("{cant}{find}"), "touches another word");
  says(form("{*} see"), "can begin or end with {*}");
  says(form("see {*}"), "can begin or end with {*}");
  says(form("{*}"), "can begin or end with {*}");
  says(form("{*?} {*} see"), "can begin or end with {*}");
  says(form("{cant?} {*} see"), "can begin or end with {*}");
  says(form("{cant?}"), "nothing is left");
  says(form("{cant?} {*?}"), "nothing is left");
  says(form("a {a b|b c|c d|d a} {a b|b c|c d|d a} {a b|b c|c d|d a} {a b|b c|c d|d a} {a b|b c}"), "more than 256 ways");
  // One fault, one problem.
  BOOST_TEST(problem_of("[[slot]]\nid = \"two\"\nwords = [\"a b\"]\n") ==
             "test.toml:25:10: 'a b' is not one word (a slot has single words; write others into the "
             "form: {this|that one})\n");
  says(problem_of("[[slot]]\nid = \"none\"\nnames = [\"grape\"]\n"), "the slot 'none' has no word");
  says(problem_of("[[slot]]\nid = \"empty\"\n"), "the slot 'empty' has no word");
  says(problem_of("[[slot]]\nid = \"two\"\nwords = [\"a b\"]\n"), "'a b' is not one word");
  says(problem_of("[[slot]]\nid = \"two\"\nwords = [\"\"]\n"), "'' is not one word");
  says(problem_of("[[slot]]\nid = \"two\"\nwords = [\";\"]\n"), "';' is not one word");
  says(problem_of("[[slot]]\nid = \"Two\"\nwords = [\"a\"]\n"), "'Two' is no id of a slot");
  says(problem_of("[[slot]]\nid = \"*\"\nwords = [\"a\"]\n"), "'*' is no id of a slot");
  says(problem_of("[[slot]]\nid = \"a\"\nwords = \"a\"\n"), "must be a list of strings");
  says(problem_of("[[slot]]\nid = \"a\"\nnames = [\"grapes\"]\n"), "did you mean 'grape'?");
  says(problem_of("[[slot]]\nid = \"a\"\nword = [\"a\"]\n"), "did you mean 'words'?");
  says(problem_of(slots + "[[slot]]\nid = \"cant\"\nwords = [\"a\"]\n"), "the slot 'cant' is declared already, at test.toml:");
  says(problem_of(slots + "[[slot]]\nid = \"cnat\"\nextends = true\nwords = [\"a\"]\n"), "unknown slot 'cnat' (did you mean 'cant'?)");
  says(problem_of(slots + "[[slot]]\nid = \"a\"\nslots = [\"fnd\"]\n"), "unknown slot 'fnd' (did you mean 'find'?)");
  says(problem_of("[[slot]]\nid = \"a\"\nslots = [\"a\"]\n"), "the slot 'a' is itself in the slot 'a'");
  says(problem_of("[[slot]]\nid = \"a\"\nwords = [\"x\"]\nslots = [\"b\"]\n[[slot]]\nid = \"b\"\nslots = [\"a\"]\n"),
       "the slot 'b' is itself in the slot 'a'");
  says(problem_of(slots + "[[descriptor]]\nid = \"d\"\nparents = [\"orchard\"]\nforms = [\"{find} it\"]\n"),
       "has a slot, and slots are for cues");
  says(problem_of(slots + "[[phrase]]\nforms = [\"{find} it\"]\ndimension = \"body\"\nrange = [1, 2]\n"),
       "has a slot, and slots are for cues");
  says(problem_of(slots + "[[sense]]\nid = \"s\"\nforms = [\"{find} it\"]\nchoose = \"none\"\n"),
       "has a slot, and slots are for cues");
}

BOOST_AUTO_TEST_CASE(an_explanation_has_the_words_of_the_note) {
  const Reader reader(Lexicon::from_blob(
      build_text(estate + slots + cue("none", R"("i {cant} {find} any")")).blob));
  const Note note = reader.read("I couldn't smell any cassis.");
  BOOST_TEST_REQUIRE(note.aromas().size() == 1u);
  BOOST_TEST((note.aromas().front().stance == Stance::denied));
  const std::string told = note.explain(note.aromas().front()).text;
  BOOST_TEST(told.find("I couldn\u2019t smell any") + told.find("I couldn't smell any") != 2 * std::string::npos);
  BOOST_TEST(told.find('{') == std::string::npos);
}

BOOST_AUTO_TEST_SUITE_END()
