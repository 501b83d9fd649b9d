// Correction of spelling leaves real words alone. The words are those of Debian's hunspell-en-gb
// and hunspell-en-us (/usr/share/hunspell); none of them was used to make english.words, which
// comes of WordNet 3.0 (Debian's wordnet-base), and is held to it here.
#include <boost/test/unit_test.hpp>

#include <algorithm>
#include <fstream>
#include <map>
#include <set>
#include <sstream>
#include <string>

#include "conformance/hunspell.hpp"
#include "conformance/table.hpp"
#include "racking/racking.hpp"

using namespace racking;

namespace {

constexpr double most_changed = 0.005;
constexpr std::size_t fewest_words = 100'000;

bool is_plain(const std::string& word) {
  return std::all_of(word.begin(), word.end(), [](char c) { return c >= 'a' && c <= 'z'; });
}

std::set<std::string> real_words() {
  std::set<std::string> out;
  for (const char* name : {"/usr/share/hunspell/en_GB", "/usr/share/hunspell/en_US"}) {
    const Hunspell dictionary(name);
    for (const std::string& word : dictionary.words())
      if (word.size() >= 5 && is_plain(word)) out.insert(word);
  }
  return out;
}

std::set<std::string> words_of_wordnet() {
  std::set<std::string> out;
  const auto take = [&](std::string word) {
    word = word.substr(0, word.find('('));   // "galore(ip)": where an adjective stands
    if (word.size() >= 3 && is_plain(word)) out.insert(word);
  };
  for (const char* part : {"noun", "verb", "adj", "adv"}) {
    std::ifstream data("/usr/share/wordnet/data." + std::string(part));
    for (std::string line; std::getline(data, line);) {
      if (line.starts_with(' ')) continue;
      std::istringstream fields(line);
      std::string offset, file, type, word, id;
      int count = 0;
      fields >> offset >> file >> type >> std::hex >> count;
      for (int i = 0; i < count && fields >> word >> id; ++i) take(word);
    }
    std::ifstream exceptions("/usr/share/wordnet/" + std::string(part) + ".exc");
    for (std::string line; std::getline(exceptions, line);) take(line.substr(0, line.find(' ')));
  }
  return out;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(spelling_real_words)

// The expansion itself: words with a suffix, a prefix, both, and two that are none.
BOOST_AUTO_TEST_CASE(the_dictionaries_are_read_whole) {
  const std::set<std::string> words = real_words();
  BOOST_REQUIRE_MESSAGE(words.size() > fewest_words,
                        "only " << words.size() << " words: install hunspell-en-gb and -en-us");
  for (const char* word : {"berries", "juicier", "unripened", "savoury", "savory", "colour", "color"})
    BOOST_TEST(words.contains(word), word);
  for (const char* word : {"blackcurants", "liquorise"}) BOOST_TEST(!words.contains(word), word);
}

BOOST_AUTO_TEST_CASE(no_real_word_becomes_an_aroma) {
  const Reader reader(Lexicon::house());
  std::map<std::string, std::string> listed;
  for (const auto& row : read_table("spelling_exceptions.tsv")) {
    BOOST_REQUIRE_MESSAGE(row.size() == 3 && !row[2].empty(), "word, descriptor, reason: " << row[0]);
    BOOST_TEST(listed.emplace(row[0], row[1]).second, row[0] << " is listed twice");
  }
  const std::set<std::string> words = real_words();
  std::size_t changed = 0;
  for (const std::string& word : words) {
    const Note note = reader.read("It has " + word + " here.");
    std::string became;
    for (const Aroma& aroma : note.aromas())
      if (aroma.respelled) became = aroma.descriptor.id();
    const auto found = listed.find(word);
    const std::string expected = found == listed.end() ? std::string() : found->second;
    if (became != expected)
      BOOST_ERROR(word << " is read as '" << became << "'; spelling_exceptions.tsv says '" << expected << "'");
    if (found != listed.end()) listed.erase(found);
    changed += became.empty() ? 0u : 1u;
  }
  for (const auto& [word, descriptor] : listed) BOOST_ERROR(word << " is listed, but no dictionary has it");
  const double share = static_cast<double>(changed) / static_cast<double>(words.size());
  BOOST_TEST_MESSAGE(changed << " of " << words.size() << " real words are read as an aroma");
  BOOST_TEST(share < most_changed);
}

BOOST_AUTO_TEST_CASE(the_word_list_is_that_of_wordnet) {
  const std::set<std::string> theirs = words_of_wordnet();
  BOOST_REQUIRE_MESSAGE(!theirs.empty(), "install the Debian package wordnet-base");
  std::set<std::string> ours;
  std::ifstream in(RACKING_SOURCE_DIR "/lexicon/context/english.words");
  std::string last;
  for (std::string line; std::getline(in, line);) {
    if (line.empty() || line.starts_with('#')) continue;
    if (!(last < line)) BOOST_ERROR(line << " does not stand in order");
    last = line;
    ours.insert(line);
  }
  BOOST_TEST((ours == theirs));
}

BOOST_AUTO_TEST_SUITE_END()
