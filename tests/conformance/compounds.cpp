// Words and the compounds behind them: each link here is published, and the descriptor that the
// word means must name the compound, or tests/data/compound_exceptions.tsv must say why it does
// not (word, compound id, reason). Links only: no thresholds, for a note is no laboratory result.
#include <boost/test/unit_test.hpp>

#include <map>
#include <string>
#include <utility>

#include "conformance/table.hpp"
#include "racking/lexicon.hpp"

using namespace racking;

namespace {

struct Link {
  const char* compound;   // the id in lexicon/aroma/compounds.toml
  const char* label;      // as compounds.toml has it
  const char* word;
  const char* source;
};

// "memory": recalled and not seen, with the paper that comes to mind.
constexpr Link links[] = {
    {"tca", "2,4,6-trichloroanisole", "musty", "Prescott 2005, Food Qual. Prefer. 16:345; Tarasov 2022"},
    {"tca", "2,4,6-trichloroanisole", "wet cardboard", "Prescott 2005; Tarasov 2022"},
    {"tdn", "1,1,6-trimethyl-1,2-dihydronaphthalene", "petrol", "Tarasov 2020"},
    {"tdn", "1,1,6-trimethyl-1,2-dihydronaphthalene", "kerosene", "Tarasov 2020"},
    {"rotundone", "rotundone", "black pepper", "read; citation not kept"},
    {"ibmp", "3-isobutyl-2-methoxypyrazine", "bell pepper", "read; citation not kept"},
    {"1-8-cineole", "1,8-cineole", "eucalyptus", "read; citation not kept"},
    {"1-8-cineole", "1,8-cineole", "camphor", "read; citation not kept"},
    {"4mmp", "4-mercapto-4-methylpentan-2-one", "boxwood", "Wine Chemistry and Biochemistry, ch. 8B"},
    {"4mmp", "4-mercapto-4-methylpentan-2-one", "broom", "Wine Chemistry and Biochemistry, ch. 8B"},
    {"3mh", "3-mercaptohexan-1-ol", "grapefruit", "Wine Chemistry and Biochemistry, ch. 8B"},
    {"3mh", "3-mercaptohexan-1-ol", "passion fruit", "Wine Chemistry and Biochemistry, ch. 8B"},
    {"3mha", "3-mercaptohexyl acetate", "passion fruit", "Wine Chemistry and Biochemistry, ch. 8B"},
    {"3mha", "3-mercaptohexyl acetate", "boxwood", "Wine Chemistry and Biochemistry, ch. 8B"},
    {"diacetyl", "diacetyl (2,3-butanedione)", "butter", "read; citation not kept"},
    {"ethanethiol", "ethanethiol", "garlic", "Tsai 2006"},
    {"ethanethiol", "ethanethiol", "natural gas", "Tsai 2006"},
    {"methanethiol", "methanethiol", "stale vegetable", "Tsai 2006"},
    {"methanethiol", "methanethiol", "rubber", "Tsai 2006"},
    {"dmds", "dimethyl disulphide", "cabbage", "Tsai 2006"},
    {"deds", "diethyl disulphide", "skunk", "Tsai 2006"},
    {"deds", "diethyl disulphide", "tyre", "Tsai 2006"},
    {"acetaldehyde", "acetaldehyde", "bruised apple", "read; citation not kept"},
    {"acetaldehyde", "acetaldehyde", "nut", "read; citation not kept"},
    {"athp", "2-acetyltetrahydropyridine", "mousy", "Snowdon 2006"},
    {"ethp", "2-ethyltetrahydropyridine", "mousy", "Snowdon 2006"},
    {"apy", "2-acetylpyrroline", "mousy", "Snowdon 2006"},
    {"2-ethoxyhexa-3-5-diene", "2-ethoxyhexa-3,5-diene", "geranium", "read; citation not kept"},
    {"ethyl-phenylacetate", "ethyl phenylacetate", "honey", "read; citation not kept"},
    {"geosmin", "geosmin", "earth", "Cravero 2020"},
    {"2-mib", "2-methylisoborneol", "earth", "Cravero 2020"},
    {"1-octen-3-one", "1-octen-3-one", "mushroom", "Cravero 2020"},
    {"guaiacol", "guaiacol", "smoke", "Cravero 2020"},
    {"guaiacol", "guaiacol", "medicine", "Cravero 2020"},
    {"4-ethylphenol", "4-ethylphenol", "horse", "memory (Chatonnet 1992)"},
    {"4-ethylphenol", "4-ethylphenol", "sticking plaster", "memory (Chatonnet 1992)"},
    {"4-ethylguaiacol", "4-ethylguaiacol", "clove", "memory (Chatonnet 1992)"},
    {"4-ethylguaiacol", "4-ethylguaiacol", "smoke", "memory (Chatonnet 1992)"},
    {"h2s", "hydrogen sulphide", "rotten egg", "memory"},
    {"dms", "dimethyl sulphide", "sweetcorn", "memory"},
    {"dms", "dimethyl sulphide", "truffle", "memory"},
    {"ethyl-acetate", "ethyl acetate", "nail varnish", "memory"},
    {"acetic-acid", "acetic acid", "vinegar", "memory"},
    {"sotolon", "sotolon", "curry", "memory"},
    {"sotolon", "sotolon", "walnut", "memory"},
    {"cis-rose-oxide", "cis-rose oxide", "rose", "memory (Guth 1997)"},
    {"cis-rose-oxide", "cis-rose oxide", "lychee", "memory (Guth 1997)"},
    {"linalool", "linalool", "floral", "memory (Guth 1997)"},
    {"beta-ionone", "β-ionone", "violet", "memory (Ferreira 2000)"},
    {"cis-whisky-lactone", "cis-whisky lactone", "coconut", "memory"},
    {"vanillin", "vanillin", "vanilla", "memory"},
    {"eugenol", "eugenol", "clove", "memory"},
    {"isoamyl-acetate", "isoamyl acetate", "banana", "memory"},
    {"ethyl-hexanoate", "ethyl hexanoate", "apple", "memory"},
    {"2-phenylethanol", "2-phenylethanol", "rose", "memory"},
    {"2-furfurylthiol", "2-furfurylthiol", "coffee", "memory"},
    {"benzenemethanethiol", "benzenemethanethiol", "flint", "memory"},
    {"benzenemethanethiol", "benzenemethanethiol", "smoke", "memory"},
    {"benzaldehyde", "benzaldehyde", "bitter almond", "memory"},
    {"isovaleric-acid", "isovaleric acid", "cheese", "memory"},
    {"isovaleric-acid", "isovaleric acid", "sweat", "memory"},
};

// `Descriptor::compounds` gives "label (source)".
bool names(const Descriptor& descriptor, const std::string& label) {
  for (const std::string& compound : descriptor.compounds())
    if (compound == label || compound.starts_with(label + " (")) return true;
  return false;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(compounds)

BOOST_AUTO_TEST_CASE(each_word_names_its_compound) {
  const Lexicon lexicon = Lexicon::house();
  std::map<std::pair<std::string, std::string>, std::string> excused;
  for (const auto& row : read_table("compound_exceptions.tsv")) {
    BOOST_REQUIRE_MESSAGE(row.size() == 3 && row[2].size() > 15, row.front() << " has no reason");
    BOOST_TEST(excused.emplace(std::pair(row[0], row[1]), row[2]).second, row[0] << " is listed twice");
  }
  for (const Link& link : links) {
    const auto descriptor = lexicon.find_form(link.word);
    const bool named = descriptor && names(*descriptor, link.label);
    const auto excuse = excused.find({link.word, link.compound});
    BOOST_TEST((named || excuse != excused.end()),
               link.word << " does not name " << link.label << " (" << link.source << ')');
    if (excuse != excused.end()) {
      BOOST_TEST(!named, link.word << " names " << link.label << " now: unlist it");
      excused.erase(excuse);
    }
  }
  for (const auto& [link, reason] : excused)
    BOOST_TEST(false, link.first << ' ' << link.second << " is no link of this test: unlist it");
}

// A name given to one compound must not hang on words of another kind.
BOOST_AUTO_TEST_CASE(a_word_does_not_name_a_stranger) {
  const Lexicon lexicon = Lexicon::house();
  for (const auto& [word, label] : {std::pair{"butter", "vanillin"}, std::pair{"black pepper", "eugenol"},
                                    std::pair{"honey", "geosmin"}, std::pair{"violet", "linalool"}}) {
    const auto descriptor = lexicon.find_form(word);
    BOOST_REQUIRE(descriptor);
    BOOST_TEST(!names(*descriptor, label), word << ' ' << label);
  }
}

BOOST_AUTO_TEST_SUITE_END()
