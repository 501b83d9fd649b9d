// wu_palmer over the nouns of WordNet 3.0 (Princeton University), as Debian's wordnet-base has
// it in /usr/share/wordnet/data.noun; the format is that of WordNet's manual page wndb(5WN).
#include <boost/test/unit_test.hpp>

#include <cstdint>
#include <fstream>
#include <set>
#include <sstream>
#include <string>
#include <unordered_map>
#include <vector>

#include "racking/hierarchy.hpp"

namespace {

// Synsets by their byte offset in data.noun, which is how WordNet names them.
class Nouns {
 public:
  Nouns() {
    std::ifstream in("/usr/share/wordnet/data.noun");
    for (std::string line; std::getline(in, line);)
      if (!line.starts_with(' ')) read(line);
  }

  bool empty() const { return parents_.empty(); }
  // The first sense of a word that index.noun lists.
  std::uint32_t first_sense(const std::string& word) const {
    std::ifstream in("/usr/share/wordnet/index.noun");
    for (std::string line; std::getline(in, line);) {
      if (!line.starts_with(word + ' ')) continue;
      std::istringstream fields(line);
      std::vector<std::string> all;
      for (std::string field; fields >> field;) all.push_back(field);
      const std::size_t senses = std::stoul(all[2]);
      return static_cast<std::uint32_t>(std::stoul(all[all.size() - senses]));
    }
    return 0;
  }
  std::span<const std::uint32_t> parents(std::uint32_t synset) const {
    const auto found = parents_.find(synset);
    if (found == parents_.end()) return {};
    return found->second;
  }
  std::string word(std::uint32_t synset) const { return words_.at(synset); }
  std::set<std::uint32_t> ancestors(std::uint32_t synset) const {
    std::set<std::uint32_t> out{synset};
    for (const std::uint32_t parent : parents(synset)) out.merge(ancestors(parent));
    return out;
  }
  double similarity(const std::string& a, const std::string& b) const {
    return racking::wu_palmer(first_sense(a), first_sense(b),
                              [&](std::uint32_t synset) { return parents(synset); });
  }

 private:
  // offset lex_filenum ss_type w_cnt word lex_id … p_cnt [symbol offset pos source/target] …
  void read(const std::string& line) {
    std::istringstream fields(line);
    std::string skip, word, symbol, pos;
    std::uint32_t offset, target;
    unsigned words, pointers;
    fields >> offset >> skip >> skip >> std::hex >> words >> std::dec;
    for (unsigned i = 0; i < words; ++i) {
      fields >> word >> skip;
      if (i == 0) words_[offset] = word;
    }
    fields >> pointers;
    auto& parents = parents_[offset];
    for (unsigned i = 0; i < pointers; ++i) {
      fields >> symbol >> target >> pos >> skip;
      if (symbol == "@" || symbol == "@i") parents.push_back(target);   // hypernyms, instance too
    }
  }

  std::unordered_map<std::uint32_t, std::vector<std::uint32_t>> parents_;
  std::unordered_map<std::uint32_t, std::string> words_;
};

}  // namespace

BOOST_AUTO_TEST_SUITE(wordnet_similarity)

BOOST_AUTO_TEST_CASE(dog_and_cat_meet_at_carnivore) {
  const Nouns nouns;
  BOOST_REQUIRE_MESSAGE(!nouns.empty(), "install the Debian package wordnet-base");
  // Published for WordNet 3.0: Wu–Palmer dog–cat is 0.857142857….
  BOOST_TEST(nouns.similarity("dog", "cat") == 0.857143, boost::test_tools::tolerance(1e-6));
  const auto dog = nouns.ancestors(nouns.first_sense("dog"));
  const auto cat = nouns.ancestors(nouns.first_sense("cat"));
  const std::uint32_t carnivore = nouns.first_sense("carnivore");
  BOOST_TEST(nouns.word(carnivore) == "carnivore");
  BOOST_TEST((dog.contains(carnivore) && cat.contains(carnivore)));
  // Every other common ancestor is an ancestor of carnivore: it is the lowest.
  const auto above = nouns.ancestors(carnivore);
  for (const std::uint32_t one : dog)
    if (cat.contains(one)) BOOST_TEST(above.contains(one), nouns.word(one));
}

BOOST_AUTO_TEST_CASE(bounds_and_symmetry_hold) {
  const Nouns nouns;
  BOOST_REQUIRE(!nouns.empty());
  const char* words[] = {"dog", "cat", "lemon", "cork", "vanilla", "stone", "wine", "entity", "paris"};
  for (const char* a : words)
    for (const char* b : words) {
      const double one = nouns.similarity(a, b);
      BOOST_TEST(one == nouns.similarity(b, a));
      BOOST_TEST((one > 0.0 && one <= 1.0));
      BOOST_TEST((one == 1.0) == (std::string(a) == b));
    }
}

BOOST_AUTO_TEST_CASE(nodes_without_a_common_ancestor_are_not_similar) {
  BOOST_TEST(racking::wu_palmer(1, 2, [](std::uint32_t) { return std::span<const std::uint32_t>(); }) ==
             0.0);
}

BOOST_AUTO_TEST_SUITE_END()
