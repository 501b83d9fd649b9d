// Bands, units and scores as an overlay and a caller use them, and the remarks of a note.
#include <boost/test/unit_test.hpp>

#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include "racking/measures.hpp"
#include "racking/note.hpp"
#include "racking/reader.hpp"
#include "unit/lexicon_support.hpp"

using namespace lexicon_test;

namespace {

const Reader& reader() {
  static const Reader one;
  return one;
}

std::vector<std::string> remarks(const Note& note) {
  std::vector<std::string> out;
  for (const Remark& remark : note.remarks()) out.push_back(remark.text);
  return out;
}
std::size_t remark_count(const std::string& text) { return reader().read(text).remarks().size(); }
std::string first_remark(const Note& note) {
  return note.remarks().empty() ? std::string() : note.remarks()[0].text;
}
bool begins(const std::string& text, const std::string& with) { return text.rfind(with, 0) == 0; }

std::string problem_of(const std::string& toml) {
  try {
    Lexicon::house().overlaid(Overlay::parse(toml, "mine.toml"));
  } catch (const Error& error) {
    return error.problems().empty() ? error.what() : error.problems().front().to_string();
  }
  return {};
}

// "alcohol 13.5 % vol", "time in wood 10–12 months": the quantities of a note, in order.
std::string figures(const std::string& text) {
  std::string out;
  const auto number = [](double value) {
    std::string digits = std::to_string(value);
    digits.erase(digits.find_last_not_of('0') + 1);
    if (digits.back() == '.') digits.pop_back();
    return digits;
  };
  const Note note = reader().read(text);
  for (const Quantity& one : note.quantities()) {
    if (!out.empty()) out += "; ";
    out += std::string(name_of(one.kind)) + ' ';
    out += one.value ? number(*one.value) : number(*one.low) + "–" + number(*one.high);
    if (one.out_of) out += '/' + number(*one.out_of);
    if (!one.unit.empty()) (out += ' ') += one.unit;
  }
  return out;
}

struct Figures { const char* text; const char* quantities; };

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr double no_number = std::numeric_limits<double>::quiet_NaN();

}  // namespace

BOOST_AUTO_TEST_SUITE(measures)

// Whatever the note's unit, the quantity's own; a converted figure is no finer than was written.
BOOST_AUTO_TEST_CASE(units_are_read_into_the_quantitys_own) {
  const Figures all[] = {
      {"TA 6.2 g/L.", "total acidity 6.2 g/L"},
      {"TA 0.62 g/100 mL.", "total acidity 6.2 g/L"},
      {"TA 4.05 g/L as sulphuric.", "total acidity 6.2 g/L"},
      {"Total acidity 83 meq/L.", "total acidity 6.23 g/L"},
      {"VA 0.5 g/L as acetic acid.", "volatile acidity 0.5 g/L"},
      {"VA 10 meq/L.", "volatile acidity 0.601 g/L"},
      {"VA 0.50 g/L as sulfuric.", "volatile acidity 0.612 g/L"},
      {"VA 450 mg/L.", "volatile acidity 0.45 g/L"},
      {"RS 1.2 g/100 mL.", "sugar 12 g/L"},
      {"90 proof.", "alcohol 45 % vol"},
      {"70 UK proof.", "alcohol 40 % vol"},
      {"600 kPa.", "pressure 6 bar"},
      {"5 atm.", "pressure 5.07 bar"},
      {"80 psi.", "pressure 5.52 bar"},
      {"8 caudalies.", "persistence 8 s"},
      {"0.5 cm.", "rim width 5 mm"},
      {"A rim of half an inch.", "rim width 12.7 mm"},
      {"Serve at 55 °F.", "temperature 12.8 °C"},
      {"Serve at 50-59 °F.", "temperature 10–15 °C"},
      {"18 months old.", "age 1.5 years"},
      {"2 years in oak.", "time in wood 24 months"},
      {"A420 2.31, A520 3.40, A620 0.80.", "colour density 6.51; colour shade 0.679"},
      {"Abs 420 nm: 0.30; 520 nm: 0.50; 620 nm: 0.10", "colour density 0.9; colour shade 0.6"},
      {"A420 0.30, A520 0.50.", "colour shade 0.6"},
      {"A420 0.30, A520 0, A620 0.10.", "colour density 0.4"},
  };
  for (const Figures& one : all) BOOST_TEST_CONTEXT(one.text) BOOST_TEST(figures(one.text) == std::string(one.quantities));
}

BOOST_AUTO_TEST_CASE(numbers_in_words) {
  const Figures all[] = {
      {"Thirteen and a half per cent.", "alcohol 13.5 % vol"},
      {"thirteen and a half percent alcohol", "alcohol 13.5 % vol"},
      {"Fourteen point two five per cent.", "alcohol 14.25 % vol"},
      {"13½%.", "alcohol 13.5 % vol"},
      {"13 and a half per cent.", "alcohol 13.5 % vol"},
      {"ten years old", "age 10 years"},
      {"A twenty-five-year-old.", "age 25 years"},
      {"a hundred and ten years old", "age 110 years"},
      {"Half a dozen years old.", "age 6 years"},
      {"Five or six years old.", "age 5–6 years"},
      {"Twelve months in oak.", "time in wood 12 months"},
      {"TWELVE MONTHS IN OAK.", "time in wood 12 months"},
      {"Ten to twelve months in new French oak.", "time in wood 10–12 months"},
      {"Two and a half years in cask.", "time in wood 30 months"},
      {"A year in barrel.", "time in wood 12 months"},
      {"In oak for eighteen months.", "time in wood 18 months"},
      {"Half an inch of rim.", "rim width 12.7 mm"},
      {"Three millimetres.", "rim width 3 mm"},
      {"Twenty seconds.", "persistence 20 s"},
      {"Four out of five.", "score 4/5"},
      {"A hundred and twenty grams of sugar.", "sugar 120 g/L"},
      {"Three quarters of an inch.", ""},
  };
  for (const Figures& one : all) BOOST_TEST_CONTEXT(one.text) BOOST_TEST(figures(one.text) == std::string(one.quantities));
}

// What counts, orders or tells the time measures no wine; nor do must, vines, steel and lees.
BOOST_AUTO_TEST_CASE(numbers_that_measure_nothing) {
  for (const char* text :
       {"One of the best.", "Two of us.", "This one, and that one.", "A second glass.", "A third of it new.",
        "Half a dozen left.", "Half an hour.", "In ten years: fig.", "Drink within six months.",
        "Drink within 6 months.", "Give it five years.", "The next six years.", "Last year.", "A year or two.",
        "Sixty-year-old vines.", "60-year-old vines.", "Vines of forty years.", "Three years on its lees.",
        "24 months on lees.", "Twelve months in steel.", "Ten months in bottle.", "Must 95 °Oe.",
        "Picked at 24 Brix.", "Brix 24.", "230 g/L sugar at harvest.", "Must of 230 g/L.", "95 Oechsle.",
        "Potential alcohol 14%.", "100% sure.", "A hundred per cent certain.", "Half an inch of dust.",
        "Ten. Years old and tired.", "and a half", "A", "an", "hundred"})
    BOOST_TEST_CONTEXT(text) BOOST_TEST(figures(text) == "");
  // The words about them are read as ever.
  const Note note = reader().read("Must of 230 g/L sugar, 12 months in steel; plum.");
  BOOST_TEST(note.quantities().empty());
  BOOST_TEST(note.aromas().size() == 1u);
}

// Company that a pattern asks for stands outside its span, and is read for itself.
BOOST_AUTO_TEST_CASE(the_span_is_the_measure_alone) {
  const Note note = reader().read("Eighteen months in new oak; cassis.");
  BOOST_REQUIRE(note.quantities().size() == 1u);
  BOOST_TEST(note.text(note.quantities()[0].span) == "Eighteen months");
  BOOST_TEST((note.quantities()[0].frame == Frame::making));
  BOOST_REQUIRE(note.aside_aromas().size() == 1u);
  BOOST_TEST(note.text(note.aside_aromas()[0].span) == "new oak");
  const Note label = reader().read("RS 16 g/L. Plum.");
  BOOST_TEST(label.text(label.quantities()[0].span) == "RS 16 g/L");
}

BOOST_AUTO_TEST_CASE(a_term_that_the_sugar_contradicts) {
  const Note note = reader().read("Says brut on the neck. Apple, crisp. RS 16 g/L.");
  BOOST_REQUIRE(note.remarks().size() == 1u);
  BOOST_TEST(begins(note.remarks()[0].text, "Says brut, yet 16 g/L of sugar: outside the term, with its "
                                            "tolerance of 3 g/L, by Regulation (EU) 2019/33"));
  BOOST_TEST(note.remarks()[0].text.find("as of 2019") != std::string::npos);
  BOOST_TEST(note.remarks()[0].text.find("local rules") != std::string::npos);
  BOOST_REQUIRE(note.remarks()[0].spans.size() == 2u);
  BOOST_TEST(note.text(note.remarks()[0].spans[0]) == "brut");
  BOOST_TEST(note.text(note.remarks()[0].spans[1]) == "RS 16 g/L");
}

// 14 is inside the tolerance; and what is not said is not judged.
BOOST_AUTO_TEST_CASE(terms_that_are_borne) {
  for (const char* text : {"Brut, RS 14 g/L.", "Brut, RS 8 g/L.", "Brut, sweet in the mouth.",
                           "RS 16 g/L, apple.", "Not brut; RS 16 g/L.", "Demi-sec, RS 40 g/L.",
                           "Demi-sec, RS 15 g/L, TA 6.0 g/L.", "Sec, RS 20 g/L.",
                           "Perhaps brut? RS 16 g/L.", "The last bottle was brut. RS 16 g/L.",
                           "Dry, TA 8 g/L, RS 12 g/L.", "Trocken, RS 9 g/L, TA 7.5 g/L."})
    BOOST_TEST(remark_count(text) == 0u, text);
  for (const char* text : {"Brut, RS 15 g/L.", "BRUT. RS 16 g/L.", "Trocken, RS 12 g/L, TA 5 g/L.",
                           "Extra brut. Dosage 11 g/L.", "Doux. RS 30 g/L.", "Label says brut; RS 16 g/L.",
                           "Labelled medium dry; RS 60 g/L."})
    BOOST_TEST(remark_count(text) == 1u, text);
}

// A legal term and a perceived level are kept apart: neither sets the other.
BOOST_AUTO_TEST_CASE(a_term_sets_no_level) {
  for (const char* text : {"Brut.", "Demi-sec.", "Doux.", "Trocken.", "RS 80 g/L.", "Extra brut, RS 3 g/L."}) {
    const Note note = reader().read(text);
    BOOST_TEST(!note.structure().sweetness.stated(), text);
    BOOST_TEST(note.readings().empty(), text);
  }
  const Note note = reader().read("Brut. Tastes sweet.");
  BOOST_REQUIRE(note.traits().size() == 1u);
  BOOST_TEST(note.traits()[0].id == "brut");
  BOOST_TEST((note.structure().sweetness.range == Interval{4, 5}));
  BOOST_TEST(note.remarks().empty());
}

BOOST_AUTO_TEST_CASE(volatile_acidity_by_colour) {
  const Note red = reader().read("Ruby. Plum, firm. VA 1.3 g/L.");
  BOOST_REQUIRE(red.remarks().size() == 1u);
  BOOST_TEST(first_remark(red) ==
             "Volatile acidity of 1.3 g/L as acetic acid: above the limit of 20 meq/L (1.2 g/L as acetic acid) "
             "for red wine by Regulation (EU) 2019/934, Annex I, Part C (as of 2019-06-07). Exceptions "
             "exist, and local rules come first.");
  BOOST_TEST(remark_count("Ruby. Plum. VA 1.15 g/L.") == 0u);
  BOOST_TEST(remark_count("Pale lemon. Pear. VA 1.15 g/L.") == 1u);
  BOOST_TEST(remark_count("Plum. VA 1.15 g/L.") == 0u);   // the colour is not said
  BOOST_TEST(remark_count("Plum. VA 1.3 g/L.") == 1u);    // above both
  BOOST_TEST(remark_count("Plum. VA 0.5 g/L.") == 0u);
  BOOST_TEST((red.condition().verdict == Verdict::not_stated));   // a figure is no fault found
}

BOOST_AUTO_TEST_CASE(an_overlay_says_a_band_anew) {
  const std::string stricter = R"(
[[band]]
id = "eu.volatile-acidity.red"
replaces = true
kind = "volatile acidity"
rule = "limit"
name = "red wine of our appellation"
unit = "g/L"
colour = ["red"]
most = 0.9
remark = true
authority = "ours"
source = "rule book of an invented appellation, 12"
as_of = "2025-01-01"
)";
  const Lexicon mine = Lexicon::house().overlaid(Overlay::parse(stricter));
  BOOST_TEST(bands(mine, QuantityKind::volatile_acidity).size() ==
             bands(Lexicon::house(), QuantityKind::volatile_acidity).size());
  const Note note = Reader(mine).read("Ruby. Plum. VA 1.0 g/L.");
  BOOST_REQUIRE(note.remarks().size() == 1u);
  BOOST_TEST(begins(first_remark(note),
                    "Volatile acidity of 1 g/L as acetic acid: above the limit of 0.9 g/L for red wine of our "
                    "appellation by rule book of an invented appellation, 12 (as of 2025-01-01)."));
  BOOST_TEST(reader().read("Ruby. Plum. VA 1.0 g/L.").remarks().empty());
  // Through a blob and back, and under another overlay.
  const Lexicon again = Lexicon::from_blob(mine.to_blob()).overlaid(Overlay::parse("# nothing\n"));
  BOOST_TEST(remarks(Reader(again).read("Ruby. Plum. VA 1.0 g/L.")) == remarks(note),
             boost::test_tools::per_element());
}

BOOST_AUTO_TEST_CASE(an_overlay_adds_a_style_and_a_unit) {
  const Lexicon mine = Lexicon::house().overlaid(Overlay::parse(R"(
[[band]]
id = "ours.semi-sparkling.dry"
kind = "sugar"
rule = "term"
name = "dry"
unit = "g/L"
terms = ["dry", "secco"]
style = ["semi-sparkling"]
most = 15
tolerance = 1
source = "an invented national law"
as_of = "2025"
[[unit]]
id = "sugar.per-bottle"
kind = "sugar"
name = "g/bottle"
factor = 1.3333333333
source = "a bottle is 0.75 L"
)"));
  const auto terms = sweetness_terms(mine, {12, WineStyle::semi_sparkling, {}, {}});
  BOOST_REQUIRE(terms.size() == 1u);
  BOOST_TEST(terms[0].band.id == "ours.semi-sparkling.dry");
  BOOST_TEST((check_sweetness_term(mine, {17, WineStyle::semi_sparkling, {}, {}}, "Secco") ==
              TermCheck::contradicts));
  BOOST_TEST(*convert(mine, QuantityKind::sugar, 9, "g/bottle", "g/L") == 12.0,
             boost::test_tools::tolerance(1e-6));
}

BOOST_AUTO_TEST_CASE(problems_of_bands_and_units_are_located) {
  const std::string head = "[[band]]\nid = \"x\"\nkind = \"sugar\"\nrule = \"limit\"\nname = \"x\"\n"
                           "source = \"a source\"\nas_of = \"2025\"\n";
  BOOST_TEST(problem_of(head + "unit = \"g/L\"\n") ==
             "mine.toml:1:1: the band has no bound (add least, above, most or below)");
  BOOST_TEST(problem_of(head + "unit = \"Brix\"\nmost = 4\n") ==
             "mine.toml:8:8: 'Brix' is no unit of the quantity (declare it in a [[unit]])");
  BOOST_TEST(problem_of(head + "unit = \"g/L\"\nleast = 9\nmost = 4\n") ==
             "mine.toml:1:1: the band ends before it begins (exchange its bounds)");
  BOOST_TEST(begins(problem_of(head + "unit = \"g/L\"\nmost = 4.00005\n"),
                    "mine.toml:9:1: 'most' is finer than a thousandth"));
  BOOST_TEST(begins(problem_of(head + "unit = \"g/L\"\nmost = 4\nbeyond = [\"eu.still.drj\"]\n"),
                    "mine.toml:10:11: unknown band 'eu.still.drj' (did you mean 'eu.still.dry'?)"));
  BOOST_TEST(begins(problem_of(head + "unit = \"g/L\"\nmost = 4\nreplaces = true\n"),
                    "mine.toml:2:6: no band 'x' is there to replace"));
  BOOST_TEST(begins(problem_of("[[unit]]\nid = \"sugar.per-litre\"\nkind = \"sugar\"\nname = \"g\"\n"
                               "factor = 1\nsource = \"s\"\n"),
                    "mine.toml:2:6: the unit 'sugar.per-litre' is declared already, in the lexicon below"));
  BOOST_TEST(begins(problem_of("[[unit]]\nid = \"y\"\nkind = \"sugar\"\nname = \"g/L\"\nfactor = 2\n"
                               "source = \"s\"\n"),
                    "mine.toml:4:8: 'g/L' is a unit of the quantity already"));
  BOOST_TEST(begins(problem_of("[[measure]]\nid = \"m\"\nkind = \"sugar\"\nunit = \"g/L\"\n"
                               "written = \"Brix\"\npattern = '(?P<value>[0-9]+) brix'\n"),
                    "mine.toml:5:11: 'Brix' is no unit of the quantity"));
}

// Kept in their own scale; only the caller knows what they are worth in another.
BOOST_AUTO_TEST_CASE(scores_convert_by_the_callers_mapping_alone) {
  const Note note = reader().read("Plum. 17/20.");
  BOOST_REQUIRE(note.quantities().size() == 1u);
  BOOST_TEST(*note.quantities()[0].value == 17.0);
  BOOST_TEST(*note.quantities()[0].out_of == 20.0);
  const ScorePoint mine[] = {{10, 60}, {15, 85}, {20, 100}};
  BOOST_TEST(rescale_score(17, mine) == 91.0, boost::test_tools::tolerance(1e-12));
  BOOST_TEST(rescale_score(10, mine) == 60.0);
  BOOST_TEST(rescale_score(15, mine) == 85.0);
  BOOST_TEST(rescale_score(20, mine) == 100.0);
  const ScorePoint falling[] = {{1, 5}, {5, 1}};   // a mapping may turn a scale round
  BOOST_TEST(rescale_score(2, falling) == 4.0, boost::test_tools::tolerance(1e-12));
  const ScorePoint unordered[] = {{10, 60}, {10, 70}};
  for (const double outside : {9.9, 20.1, no_number, infinite})
    BOOST_CHECK_THROW(rescale_score(outside, mine), Error);
  BOOST_CHECK_THROW(rescale_score(10, unordered), Error);
  BOOST_CHECK_THROW(rescale_score(10, std::span(mine).first(1)), Error);
  BOOST_CHECK_THROW(rescale_score(10, {}), Error);
}

BOOST_AUTO_TEST_CASE(odd_arguments_are_refused) {
  const Lexicon house = Lexicon::house();
  for (const double odd : {-0.1, 10'000.5, infinite, no_number}) {
    BOOST_CHECK_THROW(sweetness_terms(house, {odd, WineStyle::still, {}, {}}), Error);
    BOOST_CHECK_THROW(sweetness_terms(house, {1, WineStyle::still, odd, {}}), Error);
    BOOST_CHECK_THROW(check_sweetness_term(house, {odd, WineStyle::still, {}, {}}, "dry"), Error);
  }
  BOOST_CHECK_THROW(convert(house, QuantityKind::sugar, no_number, "g/L", "g/L"), Error);
  BOOST_CHECK_THROW(broken_limits(house, QuantityKind::sugar, infinite), Error);
  BOOST_CHECK_THROW(size_classes(house, QuantityKind::pressure, no_number), Error);
  BOOST_CHECK_THROW(colour_indices(-0.1, 1, 1), Error);
  BOOST_CHECK_THROW(colour_indices(0.1, 1, 1, 0), Error);
  BOOST_TEST(*convert(house, QuantityKind::sugar, 3, "", "g/100 mL") == 0.3,
             boost::test_tools::tolerance(1e-12));
  BOOST_TEST((check_sweetness_term(house, {1, WineStyle::still, {}, {}}, "") == TermCheck::not_covered));
}

BOOST_AUTO_TEST_SUITE_END()
