// wu_palmer over the nouns of WordNet 3.0 (Princeton University), as Debian's wordnet-base has
// it in /usr/share/wordnet/data.noun; the format is that of WordNet's manual page wndb(5WN).
#include <boost/test/unit_test.hpp>

#include <set>
#include <string>

#include "conformance/wordnet_nouns.hpp"
#include "racking/hierarchy.hpp"

namespace {

class Nouns : public WordNetNouns {
 public:
  double similarity(const std::string& a, const std::string& b) const {
    return racking::wu_palmer(first_sense(a), first_sense(b),
                              [&](std::uint32_t synset) { return parents(synset); });
  }
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
