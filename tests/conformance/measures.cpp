// Measures against what is published: the tables of Regulation (EU) 2019/33, limits of volatile
// acidity, factors of conversion, colour indices. [read]: seen in the source; [memory]: recalled
// and not seen; [computed]: from data given here.
#include <boost/test/unit_test.hpp>

#include <algorithm>
#include <string>
#include <vector>

#include "racking/lexicon.hpp"
#include "racking/measures.hpp"

using namespace racking;

namespace {

const Lexicon& house() {
  static const Lexicon lexicon = Lexicon::house();
  return lexicon;
}

std::string terms(double sugar, WineStyle style, std::optional<double> acidity = {},
                  std::optional<bool> added = {}) {
  std::string out;
  for (const SweetnessTerm& one : sweetness_terms(house(), {sugar, style, acidity, added})) {
    if (!out.empty()) out += ", ";
    out += one.band.name;
    if (one.provisional) out += '?';
  }
  return out;
}
std::string sparkling(double sugar, std::optional<bool> added = false) {
  return terms(sugar, WineStyle::sparkling, {}, added);
}
std::string still(double sugar, std::optional<double> acidity = {}) {
  return terms(sugar, WineStyle::still, acidity);
}
TermCheck check(double sugar, WineStyle style, std::string_view term,
                std::optional<double> acidity = {}) {
  return check_sweetness_term(house(), {sugar, style, acidity, {}}, term);
}
double in(QuantityKind kind, double value, std::string_view from, std::string_view to) {
  const auto out = convert(house(), kind, value, from, to);
  BOOST_REQUIRE_MESSAGE(out.has_value(), from << " to " << to);
  return *out;
}
std::vector<std::string> broken(QuantityKind kind, double value, std::optional<WineColour> colour,
                                std::optional<WineStyle> style = {}) {
  std::vector<std::string> out;
  for (const Band& band : broken_limits(house(), kind, value, colour, style))
    out.emplace_back(band.id);
  return out;
}
using Ids = std::vector<std::string>;

// Molar masses, g/mol [computed from standard atomic masses].
constexpr double tartaric = 150.087, sulfuric = 98.079, acetic = 60.052;

}  // namespace

BOOST_TEST_DONT_PRINT_LOG_VALUE(racking::TermCheck)


BOOST_AUTO_TEST_SUITE(measures)

// Regulation (EU) 2019/33, Annex III, Part A [read].
BOOST_AUTO_TEST_CASE(sparkling_terms) {
  BOOST_TEST(sparkling(0) == "brut nature, extra brut, brut");
  BOOST_TEST(sparkling(2) == "brut nature, extra brut, brut");
  BOOST_TEST(sparkling(2, true) == "extra brut, brut");
  BOOST_TEST(sparkling(2, {}) == "brut nature?, extra brut, brut");
  BOOST_TEST(sparkling(2.9) == "brut nature, extra brut, brut");
  BOOST_TEST(sparkling(3) == "extra brut, brut");
  BOOST_TEST(sparkling(6) == "extra brut, brut");
  BOOST_TEST(sparkling(6.1) == "brut");
  BOOST_TEST(sparkling(11.9) == "brut");
  BOOST_TEST(sparkling(12) == "extra dry");
  BOOST_TEST(sparkling(16.9) == "extra dry");
  BOOST_TEST(sparkling(17) == "extra dry, dry");
  BOOST_TEST(sparkling(17.1) == "dry");
  BOOST_TEST(sparkling(32) == "dry, medium dry");
  BOOST_TEST(sparkling(32.1) == "medium dry");
  BOOST_TEST(sparkling(50) == "medium dry");
  BOOST_TEST(sparkling(50.1) == "sweet");
  BOOST_TEST(sparkling(400) == "sweet");
}

// Part B: boundary cases (sugar, total acidity) [computed from the text].
BOOST_AUTO_TEST_CASE(still_terms) {
  BOOST_TEST(still(4, 0.0) == "dry");
  BOOST_TEST(still(4.1, 0.0) == "medium dry");
  BOOST_TEST(still(8, 6.0) == "dry");
  BOOST_TEST(still(8, 5.9) == "medium dry");
  BOOST_TEST(still(9, 7.0) == "dry");
  BOOST_TEST(still(9, 6.9) == "medium dry");
  BOOST_TEST(still(9.1, 20.0) == "medium dry");
  BOOST_TEST(still(12, 0.0) == "medium dry");
  BOOST_TEST(still(12.1, 2.1) == "medium dry");
  BOOST_TEST(still(12.1, 2.0) == "medium");
  BOOST_TEST(still(18, 8.0) == "medium dry");
  BOOST_TEST(still(18, 7.9) == "medium");
  BOOST_TEST(still(18.1, 20.0) == "medium");
  BOOST_TEST(still(44.9, 5.0) == "medium");
  BOOST_TEST(still(45, 5.0) == "medium, sweet");
  BOOST_TEST(still(45.1, 5.0) == "sweet");
  // Without the acidity, what could be, and says so.
  BOOST_TEST(still(3) == "dry");
  BOOST_TEST(still(8) == "dry?, medium dry?");
  BOOST_TEST(still(15) == "medium dry?, medium?");
  BOOST_TEST(still(30) == "medium");
}

// Integer tenths: what binary fractions would get wrong.
BOOST_AUTO_TEST_CASE(tenths_are_exact) {
  for (int acid = 0; acid <= 70; ++acid) {   // sugar = acidity + 2 is dry up to 9 g/L, to the tenth
    const double acidity = acid / 10.0;
    BOOST_TEST(still((acid + 20) / 10.0, acidity) == "dry", acidity);
    if (acid > 19) BOOST_TEST(still((acid + 21) / 10.0, acidity) == "medium dry", acidity);
  }
  BOOST_TEST(still(0.1 + 0.2 + 3.7, 0.0) == "dry");
}

// Every style that the annex has is covered without a gap; the others go by national law.
BOOST_AUTO_TEST_CASE(no_gap_and_no_more) {
  for (int tenth = 0; tenth <= 600; ++tenth)
    for (const double acidity : {0.0, 5.5, 9.0}) {
      BOOST_TEST(!still(tenth / 10.0, acidity).empty());
      BOOST_TEST(!sparkling(tenth / 10.0).empty());
    }
  BOOST_TEST(terms(10, WineStyle::semi_sparkling).empty());
  BOOST_TEST(terms(90, WineStyle::fortified).empty());
  BOOST_TEST((check(90, WineStyle::fortified, "sweet") == TermCheck::not_covered));
}

// The tolerance: 3 g/L sparkling, 1 g/L still, and the words in the languages of the annex.
BOOST_AUTO_TEST_CASE(terms_with_their_tolerance) {
  using enum TermCheck;
  BOOST_TEST((check(11.9, WineStyle::sparkling, "brut") == fits));
  BOOST_TEST((check(14, WineStyle::sparkling, "brut") == within_tolerance));
  BOOST_TEST((check(14.9, WineStyle::sparkling, "Brut") == within_tolerance));
  BOOST_TEST((check(15, WineStyle::sparkling, "BRUT") == contradicts));
  BOOST_TEST((check(16, WineStyle::sparkling, "brut") == contradicts));
  BOOST_TEST((check(9, WineStyle::sparkling, "extra dry") == within_tolerance));
  BOOST_TEST((check(8.9, WineStyle::sparkling, "extra sec") == contradicts));
  BOOST_TEST((check(5.9, WineStyle::sparkling, "dosage zero") == within_tolerance));
  BOOST_TEST((check(10, WineStyle::still, "dry", 7.0) == within_tolerance));
  BOOST_TEST((check(10.1, WineStyle::still, "dry", 7.0) == contradicts));
  BOOST_TEST((check(5.1, WineStyle::still, "trocken", 1.0) == contradicts));
  BOOST_TEST((check(44, WineStyle::still, "doux") == within_tolerance));
  BOOST_TEST((check(43.9, WineStyle::still, "süss") == contradicts));
  // One word, two amounts.
  BOOST_TEST((check(20, WineStyle::sparkling, "sec") == fits));
  BOOST_TEST((check(20, WineStyle::still, "sec", 6.0) == contradicts));
  BOOST_TEST((check(40, WineStyle::sparkling, "Halbtrocken") == fits));
  BOOST_TEST((check(10, WineStyle::still, "halb trocken") == not_covered));
  BOOST_TEST((check(10, WineStyle::still, "brut") == not_covered));
  struct Row { double sugar; std::vector<const char*> words; };
  const Row part_a[] = {
      {1, {"brut nature", "pas dosé", "dosage zéro", "naturherb", "dosaggio zero", "bruto natural"}},
      {4, {"extra brut", "extra herb", "extra bruto"}},
      {10, {"brut", "herb", "bruto"}},
      {15, {"extra dry", "extra sec", "extra trocken", "extra seco"}},
      {25, {"dry", "sec", "trocken", "secco", "asciutto", "seco"}},
      {40, {"medium dry", "demi-sec", "halbtrocken", "abboccato", "semi seco", "meio seco"}},
      {60, {"sweet", "doux", "mild", "dolce", "dulce", "doce"}}};
  for (const Row& row : part_a)
    for (const char* word : row.words) BOOST_TEST((check(row.sugar, WineStyle::sparkling, word) == fits), word);
  const Row part_b[] = {   // French and German [read], the rest [memory]
      {3, {"dry", "sec", "trocken", "secco", "asciutto", "seco"}},
      {11, {"medium dry", "demi-sec", "halbtrocken", "abboccato", "semiseco", "meio seco"}},
      {30, {"medium", "moelleux", "lieblich", "amabile", "semidulce", "meio doce"}},
      {80, {"sweet", "doux", "süß", "dolce", "dulce", "doce"}}};
  for (const Row& row : part_b)
    for (const char* word : row.words) BOOST_TEST((check(row.sugar, WineStyle::still, word, 5.0) == fits), word);
}

// Molar masses, and the factors of the Handbook of Enology, vol. 1 [read]: 1 meq = 0.075 g tartaric,
// 0.049 g sulfuric, 0.060 g acetic; sulfuric → tartaric × 1.53, sulfuric → acetic × 1.22.
BOOST_AUTO_TEST_CASE(acids) {
  using enum QuantityKind;
  const auto near = boost::test_tools::tolerance(1e-6);
  BOOST_TEST(in(total_acidity, 1, "g/L sulfuric", "g/L tartaric") == tartaric / sulfuric, near);
  BOOST_TEST(in(volatile_acidity, 1, "g/L sulfuric", "g/L acetic") == 2 * acetic / sulfuric, near);
  BOOST_TEST(in(total_acidity, 1, "meq/L", "g/L") == tartaric / 2000, near);
  BOOST_TEST(in(volatile_acidity, 1, "meq/L", "g/L") == acetic / 1000, near);
  BOOST_TEST(in(total_acidity, 1, "meq/L", "g/L sulfuric") == sulfuric / 2000, near);
  const auto rounded = boost::test_tools::tolerance(0.005);
  BOOST_TEST(in(total_acidity, 1, "g/L sulfuric", "g/L") == 1.53, rounded);
  BOOST_TEST(in(volatile_acidity, 1, "g/L sulfuric", "g/L") == 1.22, rounded);
  BOOST_TEST(in(total_acidity, 1, "meq/L", "g/L") == 0.075, rounded);
  BOOST_TEST(in(total_acidity, 1, "meq/L", "g/L sulfuric") == 0.049, rounded);
  BOOST_TEST(in(volatile_acidity, 1, "meq/L", "g/L") == 0.060, rounded);
  BOOST_TEST(in(total_acidity, 0.62, "g/100 mL", "g/L") == 6.2, near);
  // Regulation (EU) 1308/2013, Annex VII, Part II [read]: 3.5 g/L = 46.6 meq/L.
  BOOST_TEST(in(total_acidity, 3.5, "g/L", "meq/L") == 46.6, boost::test_tools::tolerance(0.001));
}

BOOST_AUTO_TEST_CASE(other_units) {
  using enum QuantityKind;
  const auto near = boost::test_tools::tolerance(1e-9);
  BOOST_TEST(in(sugar, 1.2, "g/100 mL", "g/L") == 12.0, near);
  BOOST_TEST(in(alcohol, 90, "US proof", "% vol") == 45.0, near);          // 27 CFR 30.11 [memory]
  BOOST_TEST(in(alcohol, 70, "UK proof", "% vol") == 40.0, near);          // × 4/7 [memory]
  BOOST_TEST(in(sulphur_dioxide, 80, "ppm", "mg/L") == 80.0, near);        // common practice
  BOOST_TEST(in(pressure, 600, "kPa", "bar") == 6.0, near);                // by definition
  BOOST_TEST(in(pressure, 1, "atm", "kPa") == 101.325, near);              // by definition [memory]
  BOOST_TEST(in(pressure, 1, "psi", "kPa") == 6.894757, boost::test_tools::tolerance(1e-6));   // [computed]
  BOOST_TEST(in(persistence, 8, "caudalies", "s") == 8.0, near);           // an encyclopaedia [read]
  BOOST_TEST(in(rim_width, 0.4, "cm", "mm") == 4.0, near);
  BOOST_TEST(in(rim_width, 0.5, "in", "mm") == 12.7, near);                // by definition [memory]
  BOOST_TEST(in(temperature, 212, "°F", "°C") == 100.0, near);             // by definition
  BOOST_TEST(in(temperature, 10, "°C", "°F") == 50.0, near);
  BOOST_TEST(in(temperature, -40, "°F", "°C") == -40.0, near);
  BOOST_TEST(in(time_in_wood, 2, "years", "months") == 24.0, near);
}

// There and back, for every pair of units of every quantity.
BOOST_AUTO_TEST_CASE(conversion_is_its_own_inverse) {
  std::size_t pairs = 0;
  for (std::size_t k = 0; k < quantity_kind_count; ++k) {
    const auto kind = static_cast<QuantityKind>(k);
    const auto all = units(house(), kind);
    if (!all.empty()) BOOST_TEST((all.front().factor == 1.0 && all.front().offset == 0.0));
    for (const Unit& a : all) {
      BOOST_TEST(!a.source.empty());
      for (const Unit& b : all) {
        ++pairs;
        BOOST_TEST(in(kind, in(kind, 7.25, a.name, b.name), b.name, a.name) == 7.25,
                   boost::test_tools::tolerance(1e-9));
      }
    }
  }
  BOOST_TEST(pairs > 60u);
}

// Within one quantity only: no unit leads from must to wine, or from pH to an acidity.
BOOST_AUTO_TEST_CASE(no_conversion_between_quantities) {
  using enum QuantityKind;
  for (const char* unit : {"g/L", "meq/L", "g/L tartaric"})
    BOOST_TEST(!convert(house(), ph, 3.2, "pH", unit));
  for (const char* unit : {"°Oe", "Oechsle", "°Brix", "Brix", "Babo", "KMW", "Baumé"}) {
    BOOST_TEST(!convert(house(), sugar, 90, unit, "g/L"), unit);
    BOOST_TEST(!convert(house(), alcohol, 90, unit, "% vol"), unit);
  }
  BOOST_TEST(!convert(house(), sugar, 16.83, "g/L", "% vol"));
  BOOST_TEST(!convert(house(), colour_density, 3, "", "L*"));
  BOOST_TEST(!convert(house(), score, 17, "", "points"));
  BOOST_TEST(units(house(), ph).size() == 1u);
  BOOST_TEST(units(house(), score).empty());
}

// Regulation (EU) 2019/934, Annex I, Part C [read]: 18 meq/L white and rosé, 20 red; as acetic
// acid 1.081 and 1.201 g/L [computed]. OIV-MA-C1-01: 20 meq/L [read]. 27 CFR 4.21: 1.4 g/L red,
// 1.2 other [read, 2019 edition].
BOOST_AUTO_TEST_CASE(volatile_acidity_limits) {
  using enum QuantityKind;
  BOOST_TEST(in(volatile_acidity, 18, "meq/L", "g/L") == 1.081, boost::test_tools::tolerance(0.0005));
  BOOST_TEST(in(volatile_acidity, 20, "meq/L", "g/L") == 1.201, boost::test_tools::tolerance(0.0005));
  const std::string eu_white = "eu.volatile-acidity.white", eu_red = "eu.volatile-acidity.red",
                    us_red = "us.volatile-acidity.red", us_other = "us.volatile-acidity.other";
  BOOST_TEST((broken(volatile_acidity, 1.08, WineColour::white) == Ids{}));
  BOOST_TEST((broken(volatile_acidity, 1.081, WineColour::rose) == Ids{}));
  BOOST_TEST((broken(volatile_acidity, 1.09, WineColour::rose) == Ids{eu_white}));
  BOOST_TEST((broken(volatile_acidity, 1.1, WineColour::red) == Ids{}));
  BOOST_TEST((broken(volatile_acidity, 1.2, WineColour::red) == Ids{}));
  BOOST_TEST((broken(volatile_acidity, 1.21, WineColour::red) == Ids{eu_red}));
  BOOST_TEST((broken(volatile_acidity, 1.2, WineColour::white) == Ids{eu_white}));
  BOOST_TEST((broken(volatile_acidity, 1.21, WineColour::white) == Ids{eu_white, us_other}));
  BOOST_TEST((broken(volatile_acidity, 1.4, WineColour::red) == Ids{eu_red}));
  BOOST_TEST((broken(volatile_acidity, 1.41, WineColour::red) == Ids{eu_red, us_red}));
  // Colour unknown: only what every colour would break.
  BOOST_TEST((broken(volatile_acidity, 1.15, {}) == Ids{}));
  BOOST_TEST((broken(volatile_acidity, 1.25, {}) == Ids{eu_red}));
  BOOST_TEST((broken(volatile_acidity, 1.5, {}) == Ids{eu_red, us_red}));
}

// Regulation (EU) 1308/2013, Annex VII, Part II [read]; liqueur wine [secondary source]. With the
// label tolerance of 0.5 % vol: Regulation 607/2009, Art. 54 [read].
BOOST_AUTO_TEST_CASE(other_limits) {
  using enum QuantityKind;
  BOOST_TEST((broken(total_acidity, 3.5, {}) == Ids{}));
  BOOST_TEST((broken(total_acidity, 3.4, {}) == Ids{"eu.total-acidity.minimum"}));
  BOOST_TEST((broken(alcohol, 15.5, {}, WineStyle::still) == Ids{}));
  BOOST_TEST((broken(alcohol, 15.6, {}, WineStyle::still) == Ids{"eu.alcohol.maximum"}));
  BOOST_TEST((broken(alcohol, 7.9, {}, WineStyle::still) == Ids{"eu.alcohol.minimum"}));
  BOOST_TEST((broken(alcohol, 8, {}, WineStyle::sparkling) == Ids{}));
  BOOST_TEST((broken(alcohol, 20, {}, WineStyle::fortified) == Ids{}));
  BOOST_TEST((broken(alcohol, 14, {}, WineStyle::fortified) == Ids{"eu.alcohol.liqueur-wine"}));
}

// Pressure at 20 °C [secondary source]; OIV Code I.4.4 for 3.5 bar [read].
BOOST_AUTO_TEST_CASE(pressure_classes) {
  const auto classes = [](double bar) {
    std::string out;
    for (const Band& band : size_classes(house(), QuantityKind::pressure, bar))
      (out += out.empty() ? "" : ", ") += band.name;
    return out;
  };
  BOOST_TEST(classes(0.9) == "");
  BOOST_TEST(classes(1) == "semi-sparkling");
  BOOST_TEST(classes(2.5) == "semi-sparkling");
  BOOST_TEST(classes(2.7) == "");
  BOOST_TEST(classes(3) == "sparkling");
  BOOST_TEST(classes(3.4) == "sparkling");
  BOOST_TEST(classes(3.5) == "sparkling, quality sparkling");
}

// No table of bands is agreed: the house's rise without gap, each value in one, and say whose they
// are. Usual values are 0 to 12, up to about 20 (an encyclopaedia [read]).
BOOST_AUTO_TEST_CASE(persistence_bands_rise) {
  std::string last;
  std::vector<std::string> order;
  for (int tenth = 0; tenth <= 300; ++tenth) {
    const auto classes = size_classes(house(), QuantityKind::persistence, tenth / 10.0);
    BOOST_TEST_REQUIRE(classes.size() == 1u);
    BOOST_TEST(classes[0].authority == "house");
    if (classes[0].name != last) order.emplace_back(last = std::string(classes[0].name));
  }
  BOOST_REQUIRE(order.size() == 5u);
  for (int step = 1; step <= 5; ++step)
    BOOST_TEST(order[static_cast<std::size_t>(step - 1)] == step_label(Dimension::finish, step));
}

// OIV-MA-AS2-07B [read]: intensity is A420 + A520 + A620 over 1 cm, shade A420 / A520. Shades
// of about 0.5 to 0.7 young and up to 1.3 old: Handbook of Enology, vol. 2 [memory]; not judged.
BOOST_AUTO_TEST_CASE(chromatic_indices) {
  const ColourIndices young = colour_indices(0.30, 0.50, 0.10);
  BOOST_TEST(young.density == 0.90, boost::test_tools::tolerance(1e-12));
  BOOST_TEST(*young.shade == 0.60, boost::test_tools::tolerance(1e-12));
  const ColourIndices tenth_of_path = colour_indices(0.30, 0.50, 0.10, 0.1);
  BOOST_TEST(tenth_of_path.density == 9.0, boost::test_tools::tolerance(1e-12));
  BOOST_TEST(*tenth_of_path.shade == 0.60, boost::test_tools::tolerance(1e-12));
  BOOST_TEST(!colour_indices(0.1, 0, 0.1).shade);
  BOOST_TEST(bands(house(), QuantityKind::colour_density).empty());
  BOOST_TEST(bands(house(), QuantityKind::colour_shade).empty());
}

BOOST_AUTO_TEST_CASE(every_band_has_its_source_and_date) {
  std::size_t count = 0;
  for (std::size_t k = 0; k < quantity_kind_count; ++k)
    for (const Band& band : bands(house(), static_cast<QuantityKind>(k))) {
      ++count;
      BOOST_TEST(band.source.size() > 10u, band.id);
      BOOST_TEST(band.as_of.size() >= 4u, band.id);
      BOOST_TEST(!band.authority.empty(), band.id);
      BOOST_TEST((band.rule == BandRule::term) == !band.terms.empty(), band.id);
    }
  BOOST_TEST(count == 27u);
}

BOOST_AUTO_TEST_SUITE_END()
