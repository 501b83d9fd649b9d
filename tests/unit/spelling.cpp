// The bounds of correction: what is read as another word, what never is, and what it leaves alone.
#include <algorithm>
#include <boost/test/unit_test.hpp>

#include <chrono>
#include <cstring>
#include <random>
#include <string>
#include <string_view>
#include <vector>

#include "lexicon/blob.hpp"
#include "lexicon/ordinary.hpp"
#include "match/spelling.hpp"
#include "racking/racking.hpp"
#include "unit/lexicon_support.hpp"

using namespace lexicon_test;
using match::edits_between;

namespace {

const Reader& house() {
  static const Reader reader(Lexicon::house());
  return reader;
}

// "blackberry<blackberrys" for each aroma; "=cassis" for one spelt as the lexicon has it.
std::vector<std::string> aromas(const std::string& text, const Reader& reader = house()) {
  std::vector<std::string> out;
  const Note note = reader.read(text);
  for (const Aroma& aroma : note.aromas()) {
    const std::string kept = text.substr(aroma.span.begin, aroma.span.size());
    out.push_back(aroma.respelled ? std::string(aroma.descriptor.id()) + '<' + kept : '=' + kept);
  }
  return out;
}

using All = std::vector<std::string>;

// A small lexicon with a list of ordinary words of its own.
constexpr std::string_view listed = "# a list\nblackcurrants\ncurrent\nflint\nhedge\n-s\n-ss ss\n-y\n";
const std::string berries = R"(
[[family]]
id = "hedgerow"
forms = ["hedge"]
[[descriptor]]
id = "currants"
parents = ["hedgerow"]
forms = ["currant"]
[[descriptor]]
id = "blackcurrant"
parents = ["currants"]
forms = ["blackcurrant", "ribes nigrum"]
[[descriptor]]
id = "flint"
parents = ["hedgerow"]
forms = ["flint", "silex"]
[[descriptor]]
id = "fig"
parents = ["hedgerow"]
forms = ["fig", "flink"]
[[name]]
kind = "place"
name = "Medolane"
forms = ["medolane"]
)";

std::string small_blob(const std::string& toml = berries, std::string_view words = listed,
                       const CompiledLexicon* base = nullptr) {
  Source source;
  std::vector<Problem> problems;
  load_text(toml, "test.toml", source, problems);
  load_words(words, "test.words", source, problems);
  const std::string blob = build(source, base, problems);
  for (const Problem& problem : problems) BOOST_ERROR(problem.to_string());
  return blob;
}

const Reader& small() {
  static const Reader reader(Lexicon::from_blob(small_blob()));
  return reader;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(spelling)

BOOST_AUTO_TEST_CASE(edits_are_counted) {
  BOOST_TEST(edits_between("melon", "melon", 2) == 0);
  BOOST_TEST(edits_between("mellon", "melon", 2) == 1);
  BOOST_TEST(edits_between("meln", "melon", 2) == 1);
  BOOST_TEST(edits_between("milon", "melon", 2) == 1);
  BOOST_TEST(edits_between("meoln", "melon", 2) == 1);     // neighbours swapped
  BOOST_TEST(edits_between("emlno", "melon", 2) == 2);
  BOOST_TEST(edits_between("nolem", "melon", 2) == 3);     // more than asked for
  BOOST_TEST(edits_between("nolem", "melon", 8) == 4);
  BOOST_TEST(edits_between("", "melon", 5) == 5);
  BOOST_TEST(edits_between(std::string(33, 'a'), std::string(33, 'a'), 1) == 2);   // too long
}

// Against the plain table of all beginnings, by definition.
BOOST_AUTO_TEST_CASE(edits_agree_with_the_definition) {
  std::mt19937 random(3);
  const auto word = [&] {
    std::string out(random() % 9, 'a');
    for (char& c : out) c = static_cast<char>('a' + random() % 3);
    return out;
  };
  for (int round = 0; round < 20000; ++round) {
    const std::string a = word(), b = word();
    std::vector<std::vector<int>> d(a.size() + 1, std::vector<int>(b.size() + 1));
    for (std::size_t i = 0; i <= a.size(); ++i)
      for (std::size_t j = 0; j <= b.size(); ++j) {
        if (i == 0 || j == 0) {
          d[i][j] = static_cast<int>(i + j);
          continue;
        }
        d[i][j] = std::min({d[i - 1][j] + 1, d[i][j - 1] + 1, d[i - 1][j - 1] + (a[i - 1] != b[j - 1])});
        if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
          d[i][j] = std::min(d[i][j], d[i - 2][j - 2] + 1);
      }
    BOOST_REQUIRE_EQUAL(edits_between(a, b, 2), std::min(d[a.size()][b.size()], 3));
  }
}

BOOST_AUTO_TEST_CASE(one_edit_from_five_letters_two_from_nine) {
  BOOST_TEST(aromas("Some flitn.", small()) == All{"flint<flitn"});
  BOOST_TEST(aromas("Some flnt.", small()) == All{});              // four letters
  BOOST_TEST(aromas("Some fliiint.", small()) == All{});           // two edits, seven letters
  BOOST_TEST(aromas("Some curant.", small()) == All{"currants<curant"});
  BOOST_TEST(aromas("Some blakcurant.", small()) == All{"blackcurrant<blakcurant"});   // two
  BOOST_TEST(aromas("Some blakcurat.", small()) == All{});         // three
  BOOST_TEST(aromas("Some figgg.", small()) == All{});             // onto three letters
}

BOOST_AUTO_TEST_CASE(of_two_words_equally_near_neither) {
  BOOST_TEST(aromas("Some flinc.", small()) == All{});             // flint, flink
  BOOST_TEST(aromas("Some silxe.", small()) == All{"flint<silxe"});
}

BOOST_AUTO_TEST_CASE(a_neighbour_decides_between_words) {
  BOOST_TEST(aromas("I find green peper.") == All{"bell-pepper<green peper"});
  BOOST_TEST(aromas("I find peper.") == All{});                    // pepper, paper
  BOOST_TEST(aromas("Some ribse nigrum.", small()) == All{"blackcurrant<ribse nigrum"});
  BOOST_TEST(aromas("Some ribes nigrm.", small()) == All{"blackcurrant<ribes nigrm"});
  BOOST_TEST(aromas("Some nigrm.", small()) == All{});             // no form by itself
  BOOST_TEST(aromas("Some ribes. Nigrm.", small()) == All{});
}

BOOST_AUTO_TEST_CASE(real_words_stay) {
  BOOST_TEST(aromas("The current vintage.", small()) == All{});    // an edit from "currant"
  BOOST_TEST(aromas("The currents.", small()) == All{});           // a listed word with an ending
  BOOST_TEST(aromas("The flints.", small()) == All{});
  for (const char* word : {"current", "speech", "pairs", "vanity", "appeal", "bracket", "costard",
                           "pepped", "lingered", "chocolatier", "loathe", "quickest", "unlikely"})
    BOOST_TEST(aromas(std::string("It has ") + word + " here.") == All{}, word);
}

BOOST_AUTO_TEST_CASE(names_stay_and_no_slip_becomes_one) {
  BOOST_TEST(aromas("From Flintt, some flint.", small()) == All{"=flint"});
  BOOST_TEST(aromas("FLINTT some flint.", small()) == All{"=flint"});
  BOOST_TEST(house().read("from medolaine").names().empty());
  BOOST_TEST(small().read("from medolan").names().empty());
  BOOST_TEST(aromas("Blackbery Lane made it.") == All{});
}

BOOST_AUTO_TEST_CASE(a_note_all_in_capitals_is_corrected) {
  BOOST_TEST(aromas("SMELLS OF STRAWBERY AND TABACCO.") == (All{"strawberry<STRAWBERY", "tobacco<TABACCO"}));
  BOOST_TEST(aromas("Smells of STRAWBERY and leather.") == All{"=leather"});
}

BOOST_AUTO_TEST_CASE(addresses_tags_and_figures_stay) {
  for (const char* text : {"see @strawbery", "see #strawbery", "strawbery@example.org",
                           "straw8ery"})
    BOOST_TEST(aromas(text) == All{}, text);
}

BOOST_AUTO_TEST_CASE(shorthand_is_no_spelling) {
  const std::string shorthand = "shorthand = true\n[[descriptor]]\nid = \"gooseberry\"\n"
                                "parents = [\"hedgerow\"]\nforms = [\"gsberry\"]\n";
  const CompiledLexicon& base = *small().lexicon().compiled();
  const Reader reader(Lexicon::from_blob(small_blob(shorthand, "", &base)));
  BOOST_TEST(aromas("Some gsberry.", reader) == All{"=gsberry"});
  BOOST_TEST(aromas("Some gsbery.", reader) == All{});
  BOOST_TEST(aromas("Some flitn.", reader) == All{"flint<flitn"});   // the base's list serves on
}

BOOST_AUTO_TEST_CASE(rule_made_adjectives_are_no_spelling) {
  const std::string rule = "[[inflection]]\nkind = \"adjective\"\nending = \"\"\nreplace = \"like\"\n";
  const Reader reader(Lexicon::from_blob(small_blob(berries + rule)));
  BOOST_TEST(aromas("Some flintlike.", reader) == All{"=flintlike"});
  BOOST_TEST(aromas("Some flintlik.", reader) == All{});
}

BOOST_AUTO_TEST_CASE(the_kept_text_is_the_writers) {
  const std::string text = "I can smell blackberrys and tabacco, grene appel too.";
  const Note note = house().read(text);
  BOOST_TEST(note.text() == text);
  bool found = false;
  for (const Aroma& aroma : note.aromas()) {
    BOOST_TEST(aroma.span.end <= text.size());
    if (text.substr(aroma.span.begin, aroma.span.size()) != "blackberrys") continue;
    found = true;
    BOOST_TEST(aroma.respelled);
    BOOST_TEST(aroma.descriptor.id() == "blackberry");
    BOOST_TEST((aroma.span == Span{12, 23}));
  }
  BOOST_TEST(found);
}

BOOST_AUTO_TEST_CASE(what_shares_a_respelled_word_is_respelled) {
  const Note note = house().read("red and black cherrys");
  BOOST_REQUIRE(note.aromas().size() == 2u);
  for (const Aroma& aroma : note.aromas()) BOOST_TEST(aroma.respelled, aroma.descriptor.id());
}

BOOST_AUTO_TEST_CASE(without_a_word_list_nothing_is_corrected) {
  const Reader reader(Lexicon::from_blob(small_blob(berries, "")));
  BOOST_TEST(aromas("Some flitn, some flint.", reader) == All{"=flint"});
}

BOOST_AUTO_TEST_CASE(a_wrong_line_of_a_list_is_reported) {
  Source source;
  std::vector<Problem> problems;
  load_words("good\nTwo words\n-ies y\nun-\n-\n# so\n\nbrûlée\r\nlast", "my.words", source, problems);
  BOOST_REQUIRE(problems.size() == 3u);
  BOOST_TEST(problems[0].to_string().starts_with("my.words:2:1"));
  BOOST_TEST(problems[1].line == 5u);
  BOOST_TEST(problems[2].line == 8u);
  std::vector both{ordinary_hash("good"), ordinary_hash("last")};
  std::sort(both.begin(), both.end());
  BOOST_TEST(source.ordinary == both, "both words");
  BOOST_TEST(source.affixes.size() == 2u);
}

BOOST_AUTO_TEST_CASE(words_are_judged_with_their_affixes) {
  const OrdinaryWords words(*house().lexicon().compiled());
  for (const char* word : {"berries", "peaches", "stopping", "happily", "unhappily", "wolves", "went",
                           "reddened", "darkness", "glasses", "wetly", "cities"})
    BOOST_TEST(words.has(word), word);
  for (const char* word : {"peachs", "cherrys", "strawbery", "peper", "glasss", "vanila", "qqqqq"})
    BOOST_TEST(!words.has(word), word);
}

// At most 64 words are compared, and real words are not: what follows is told by looking up alone.
BOOST_AUTO_TEST_CASE(nonsense_is_read_in_time_linear_in_it) {
  std::string text;
  for (int i = 0; i < 64; ++i) text += "qzxvk" + std::string(1, static_cast<char>('a' + i % 26)) + "w ";
  BOOST_TEST(aromas(text + "strawbery") == All{});
  BOOST_TEST(aromas(text.substr(8) + "strawbery") == All{"strawberry<strawbery"});
  std::string real;
  for (int i = 0; i < 500; ++i) real += "aardvark ";
  BOOST_TEST(aromas(real + "strawbery") == All{"strawberry<strawbery"});
}

// The tables of spelling, damaged in every way: refused, or safe to read with.
BOOST_AUTO_TEST_CASE(damaged_tables_are_safe) {
  const std::string blob = small_blob();
  std::mt19937 random(11);
  int survived = 0;
  for (int round = 0; round < 4000; ++round) {
    std::string bad = blob;
    BlobHeader header;
    // The last sections: affixes, ordinary, spellings, name, version.
    const std::size_t section = section_count - 5 + random() % 3;
    BlobSection at;
    std::memcpy(&at, blob.data() + sizeof header + section * sizeof at, sizeof at);
    BOOST_REQUIRE(at.count > 0);
    bad[at.offset + random() % (at.count * at.element_size)] = static_cast<char>(random());
    std::memcpy(&header, bad.data(), sizeof header);
    header.checksum = checksum(std::string_view(bad).substr(sizeof header));
    header.digest = hexadecimal(header.checksum);
    std::memcpy(bad.data(), &header, sizeof header);
    try {
      const Reader reader(Lexicon::from_blob(bad));
      aromas("Some flitn, blakcurant, ribse nigrum, currents and flintss.", reader);
      ++survived;
    } catch (const Error& error) {
      BOOST_TEST((error.code() == ErrorCode::lexicon_corrupt));
    }
  }
  BOOST_TEST(survived > 0);
  BOOST_TEST(survived < 4000);
}

BOOST_AUTO_TEST_SUITE_END()
