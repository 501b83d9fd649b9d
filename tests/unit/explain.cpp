// Why each reading was read so: the words, the rule, and that the rule named did decide.
#include <boost/test/unit_test.hpp>

#include <algorithm>
#include <array>
#include <filesystem>
#include <fstream>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "explain/words.hpp"
#include "lexicon/build.hpp"
#include "lexicon/compiled.hpp"
#include "lexicon/load.hpp"
#include "racking/racking.hpp"
#include "study/markup.hpp"

using namespace racking;

namespace {

const Reader& house() {
  static const Reader reader;
  return reader;
}

// An explanation, and what it explains: "aroma blackcurrant", "structure tannin" …
struct Told {
  std::string of;
  Span span;
  Explanation why;
};

template <class Element>
void tell(std::vector<Told>& out, const Note& note, std::span<const Element> all,
          std::string (*named)(const Element&)) {
  for (const Element& one : all) {
    Span span;
    if constexpr (requires { one.span; }) span = one.span;
    else span = note.parts(one.spans).front();
    out.push_back({named(one), span, note.explain(one)});
  }
}

std::string with(std::string kind, std::string_view id) { return kind + ' ' + std::string(id); }
std::string named(const Aroma& one) { return with("aroma", one.descriptor.id()); }
std::string named(const Reading& one) { return with("structure", name_of(one.dimension)); }
std::string named(const Trait& one) { return with("trait", one.id); }
std::string named(const Sight& one) {
  return with("sight", one.hue ? name_of(*one.hue) : one.value);
}
std::string named(const Quantity& one) { return with("quantity", name_of(one.kind)); }
std::string named(const FaultReading& one) { return with("fault", name_of(one.fault)); }
std::string named(const Name& one) { return with("name", one.name); }

std::vector<Told> all_told(const Note& note) {
  std::vector<Told> out;
  tell<Aroma>(out, note, note.aromas(), named);
  tell<Aroma>(out, note, note.aside_aromas(), named);
  tell<Reading>(out, note, note.readings(), named);
  tell<Reading>(out, note, note.aside_readings(), named);
  tell<Trait>(out, note, note.traits(), named);
  tell<Trait>(out, note, note.aside_traits(), named);
  tell<Sight>(out, note, note.sight(), named);
  tell<Sight>(out, note, note.aside_sight(), named);
  tell<Quantity>(out, note, note.quantities(), named);
  tell<Name>(out, note, note.names(), named);
  tell<FaultReading>(out, note, note.condition().faults, named);
  tell<FaultReading>(out, note, note.aside_faults(), named);
  for (const Span span : note.unmapped())
    out.push_back({"unmapped", span, note.explain_unmapped(span)});
  return out;
}

// One row: of this reading of this text, this was decided by this rule and these words.
struct Case {
  std::string_view text, of, what, rule, words, says;
};

std::string all_text(const std::vector<Told>& told) {
  std::string out;
  for (const Told& one : told) out += "\n  " + one.of + ": " + one.why.text;
  return out;
}

void check(const Case& row) {
  const Note note = house().read(std::string(row.text));
  const std::vector<Told> told = all_told(note);
  bool found = false;
  for (const Told& one : told) {
    if (one.of != row.of) continue;
    for (const Reason& reason : one.why.reasons)
      found = found || (reason.what == row.what && reason.rule == row.rule &&
                        note.text(reason.span) == row.words &&
                        reason.because.find(row.says) != std::string::npos);
  }
  BOOST_TEST(found, row.text << " — " << row.of << ", " << row.what << " by " << row.rule << " at "
                             << row.words << ", saying " << row.says << "; but" << all_text(told));
}

}  // namespace

namespace {

std::vector<std::string> corpus() {
  namespace fs = std::filesystem;
  std::vector<std::string> out;
  for (const auto& file : fs::recursive_directory_iterator(RACKING_SOURCE_DIR "/tests/corpus")) {
    if (file.path().extension() != ".txt") continue;
    std::ifstream in(file.path());
    for (std::string line; std::getline(in, line);)
      if (!line.empty() && line[0] != '#')
        out.push_back(study::parse_marked(line[0] == '!' ? line.substr(1) : line).text);
  }
  return out;
}

// Holds each explanation of a note against what the record says of the reading.
class Checker {
 public:
  explicit Checker(const Note& note) : note_(note), lexicon_(*note.lexicon().compiled()) {}

  void all() {
    for (const Aroma& one : note_.aromas()) aroma(one);
    for (const Aroma& one : note_.aside_aromas()) aroma(one);
    for (const Reading& one : note_.readings()) structure(one);
    for (const Reading& one : note_.aside_readings()) structure(one);
    for (const Trait& one : note_.traits()) trait(one);
    for (const Trait& one : note_.aside_traits()) trait(one);
    for (const Sight& one : note_.sight()) around(one, note_.explain(one));
    for (const Sight& one : note_.aside_sight()) around(one, note_.explain(one));
    for (const Quantity& one : note_.quantities()) quantity(one);
    for (const Name& one : note_.names()) sound(note_.explain(one));
    for (const FaultReading& one : note_.condition().faults) fault(one);
    for (const FaultReading& one : note_.aside_faults()) fault(one);
    for (const Span one : note_.unmapped()) sound(note_.explain_unmapped(one));
  }

 private:
  void require(bool holds, std::string_view what, const Explanation& why) {
    if (!holds) BOOST_ERROR(what << ": " << note_.text() << "\n  " << why.text);
  }

  static const Reason* reason(const Explanation& why, std::string_view what) {
    for (const Reason& one : why.reasons)
      if (one.what == what) return &one;
    return nullptr;
  }
  static bool names(const Explanation& why, std::string_view rule) {
    return std::any_of(why.reasons.begin(), why.reasons.end(),
                       [&](const Reason& one) { return one.rule == rule; });
  }
  bool is_rule(const std::string& rule) const {
    const auto has = [&](const auto& table) {
      return std::any_of(table.begin(), table.end(),
                         [&](const auto& one) { return lexicon_.string(one.id) == rule; });
    };
    return has(lexicon_.cues) || has(lexicon_.sense_rules) || has(lexicon_.measures) ||
           rule.starts_with("plural ") || rule.starts_with("adjective ");
  }

  void sound(const Explanation& why) {
    require(!why.text.empty() && !why.reasons.empty(), "empty", why);
    for (const Reason& one : why.reasons) {
      require(!one.because.empty() && one.because.back() == '.', "no sentence", why);
      require(one.span.begin < one.span.end && one.span.end <= note_.text().size(), "span", why);
      require(one.rule.empty() || is_rule(one.rule), "no such rule", why);
      require(why.text.find(one.because) != std::string::npos, "not in the paragraph", why);
    }
  }

  template <class Element>
  void around(const Element& one, const Explanation& why) {
    sound(why);
    for (const Cue& cue : note_.cues(one.cues))
      require(names(why, cue.rule) || one.frame == Frame::name, "a cue is not told", why);
    const Reason* frame = reason(why, "frame");
    require((frame != nullptr) == (one.frame != Frame::tasting) || one.frame == Frame::tasting,
            "frame", why);
    if (one.when != When::now) require(frame || reason(why, "when"), "when", why);
    const Reason* stance = reason(why, "stance");
    if (one.stance == Stance::hedged)
      require(stance && !stance->rule.empty() && stance->because.starts_with("In doubt"), "stance", why);
    if (one.stance == Stance::denied)
      require(why.text.find("enied") != std::string::npos, "stance", why);
  }

  void phased(Phase phase, const Explanation& why) {
    const Reason* its = reason(why, "phase");
    require(its != nullptr, "phase", why);
    if (its == nullptr) return;
    const std::string words(racking::explain::phase_words(phase));
    require(its->because.substr(1).starts_with(words.substr(1)), "another phase", why);
  }

  void aroma(const Aroma& one) {
    const Explanation why = note_.explain(one);
    around(one, why);
    phased(one.phase, why);
    require(why.text.starts_with("Read as " + std::string(one.descriptor.label())), "label", why);
    require(one.respelled == (reason(why, "spelling") != nullptr), "spelling", why);
    require((one.parts.count != 0) == (reason(why, "parts") != nullptr), "parts", why);
    require(one.strength.has_value() == (reason(why, "strength") != nullptr), "strength", why);
    require((one.state != State::none) == (reason(why, "state") != nullptr), "state", why);
  }

  // The last level told is the one of the record.
  void structure(const Reading& one) {
    const Explanation why = note_.explain(one);
    around(one, why);
    phased(one.phase, why);
    require(why.text.starts_with("Read as " + std::string(name_of(one.dimension))), "name", why);
    std::string last;
    for (const Reason& reason : why.reasons)
      if (reason.what == "level") last = reason.because;
    if (one.range)
      require(last.find(racking::explain::range_words(one.dimension, *one.range)) !=
                  std::string::npos, "range", why);
    else
      require(last.starts_with("Denied"), "no range", why);
  }

  void trait(const Trait& one) {
    const Explanation why = note_.explain(one);
    around(one, why);
    phased(one.phase, why);
    require(why.text.find('\xE2') != std::string::npos &&
                why.text.find(one.id) != std::string::npos, "trait", why);
  }

  // A bare year and a grape's share need no measure; all else names it.
  void quantity(const Quantity& one) {
    const Explanation why = note_.explain(one);
    sound(why);
    require(!why.reasons.front().rule.empty() || one.kind == QuantityKind::vintage ||
                one.kind == QuantityKind::share, "measure", why);
  }

  void fault(const FaultReading& one) {
    const Explanation why = note_.explain(one);
    sound(why);
    require(why.text.starts_with("Read as " + std::string(name_of(one.fault))), "fault", why);
    for (const Cue& cue : note_.cues(one.cues)) require(names(why, cue.rule), "cue", why);
  }

  const Note& note_;
  const lexicon::CompiledLexicon& lexicon_;
};

// The house lexicon with one rule left out.
Reader without(std::string_view id) {
  static const lexicon::Source whole = [] {
    std::vector<Problem> problems;
    return lexicon::load_folder(RACKING_SOURCE_DIR "/lexicon", problems);
  }();
  lexicon::Source source = whole;
  std::erase_if(source.entries, [&](const lexicon::Entry& entry) {
    const auto found = entry.texts.find("id");
    return (entry.kind == "cue" || entry.kind == "sense") && found != entry.texts.end() &&
           found->second.value == id;
  });
  BOOST_REQUIRE(source.entries.size() + 1 == whole.entries.size());
  std::vector<Problem> problems;
  const std::string blob = lexicon::build(source, nullptr, problems);
  for (const Problem& problem : problems) BOOST_ERROR(problem.to_string());
  return Reader(Lexicon::from_blob(blob));
}

// The record, but for what names the lexicon and the rules.
std::string bare_record(const Note& note) {
  JsonOptions options;
  options.depth = JsonOptions::Depth::plain;
  const std::string record = note.to_json(options);
  return record.substr(record.find("\"text\""));
}

}  // namespace

BOOST_AUTO_TEST_SUITE(explain)

BOOST_AUTO_TEST_CASE(words_and_forms) {
  constexpr Case rows[] = {
      {"Smells of cassis.", "aroma blackcurrant", "words", "", "cassis", "‘cassis’ is one of its names"},
      {"Ripe plums.", "aroma plum", "form", "plural -s", "plums", "the plural of ‘plum’"},
      {"Blackberries.", "aroma blackberry", "form", "plural -y -ies", "Blackberries",
       "the plural of ‘blackberry’"},
      {"Wet leaves.", "aroma wet-leaves", "form", "plural exception", "Wet leaves", "‘wet leaf’"},
      {"Plummy.", "aroma plum", "words", "", "Plummy", "one of its names"},
      {"A peppery thing.", "aroma pepper", "form", "adjective exception", "peppery",
       "the adjective of ‘pepper’"},
      {"Floral.", "aroma flowers", "words", "", "Floral", "one of its names"},
      {"Creme brulee.", "aroma creme-brulee", "words", "", "Creme brulee", "one of its names"},
      {"Some blackbery here.", "aroma blackberry", "spelling", "", "blackbery",
       "looks like a slip of the pen for ‘blackberry’"},
      {"Red and black cherries.", "aroma red-cherry", "parts", "", "cherries",
       "‘Red’ shares ‘cherries’"},
      {"Dried fig and apricot.", "aroma dried-apricot", "parts", "", "Dried",
       "‘apricot’ shares ‘Dried’"},
      {"Peach skin and pit.", "aroma peach-kernel", "parts", "", "Peach", "‘pit’ shares ‘Peach’"},
      {"An odd frumious wine.", "unmapped", "words", "", "frumious", "is not in the lexicon"},
      {"Accordion here.", "unmapped", "words", "", "Accordion", "no slip of the pen"},
      {"Blackberrys.", "unmapped", "words", "", "Blackberrys", "looks like ‘blackberry’"},
  };
  for (const Case& row : rows) check(row);
}

BOOST_AUTO_TEST_CASE(senses) {
  constexpr Case rows[] = {
      {"Pale lemon. Nose: pear.", "sight lemon", "sense", "sense.hue-pale", "Pale",
       "it follows ‘Pale’"},
      {"Pale lemon. Nose: pear.", "sight pale", "sense", "sense.depth-before-hue", "lemon",
       "before the first word of nose or palate, ‘Nose’"},
      {"Over the hill: brown, tired.", "sight brown", "sense", "sense.brown-of-wine", "brown",
       "all that stands between two marks"},
      {"Robe: cherry.", "sight cherry", "sense", "sense.hue-in-sight", "Robe",
       "‘Robe’ makes it speak of the look"},
      {"Ripe cherry.", "aroma cherry", "sense", "sense.hue-thing", "cherry",
       "nothing near it speaks of the look"},
      {"Straw, pear.", "sight straw", "sense", "sense.straw-first", "Straw", "colour"},
      {"Green reflections; pear.", "sight green", "sense", "sense.plain-hue-by-word-after",
       "reflections", "‘reflections’ follows it"},
      {"Brown tawny.", "sight brown", "sense", "sense.plain-hue-beside-hue", "tawny", "a colour"},
      {"Date, walnut.", "aroma dates", "sense", "sense.date-fruit", "walnut",
       "stands in the same clause"},
      {"A savoury note.", "aroma savouriness", "sense", "sense.named-flavour", "note",
       "with such a noun it names a smell"},
      {"Dusty tannins.", "trait dusty", "sense", "sense.trait-of-anchor", "tannins",
       "a noun of structure, follows it"},
      {"Stalky tannins.", "structure tannin", "sense", "sense.of-anchor", "tannins", "how much"},
      {"Oak-free Chard, apple.", "name Chardonnay", "sense", "sense.name-by-capital", "Chard",
       "a capital inside a sentence"},
  };
  for (const Case& row : rows) check(row);
}

BOOST_AUTO_TEST_CASE(stance_strength_and_state) {
  constexpr Case rows[] = {
      {"No oak.", "aroma oak", "stance", "negation.no", "No", "Denied: ‘No’ denies what follows."},
      {"Plum without oak.", "aroma oak", "stance", "negation.no", "without", "Denied"},
      {"The tar is missing.", "aroma tar", "stance", "negation.after", "is missing", "before it"},
      {"An unoaked wine.", "aroma oak", "stance", "negation.unoaked", "unoaked", "in the word"},
      {"Perhaps tar.", "aroma tar", "stance", "hedge.before", "Perhaps", "In doubt"},
      {"Tar?", "aroma tar", "stance", "hedge.after", "?", "in doubt"},
      {"Tar or bramble.", "aroma tar", "stance", "hedge.or-before", "or", "which of the two"},
      {"Plum.", "aroma plum", "stance", "", "Plum", "nothing near it denies it"},
      {"A hint of vanilla.", "aroma vanilla", "strength", "strength.light", "A hint of", ""},
      {"Stewed loganberry.", "aroma loganberry", "state", "state.cooked", "Stewed", "Cooked"},
      {"Ripe plum.", "aroma plum", "state", "state.ripe", "Ripe", "says that it is ripe"},
      {"Raisins.", "aroma raisin", "state", "", "Raisins", "Dried: the thing itself is"},
      {"Not corked.", "fault cork taint", "stance", "negation.no", "Not", "Denied"},
      {"Perhaps corked.", "fault cork taint", "stance", "hedge.before", "Perhaps", "In doubt"},
  };
  for (const Case& row : rows) check(row);
}

BOOST_AUTO_TEST_CASE(frames_times_and_phases) {
  constexpr Case rows[] = {
      {"Will gain leather.", "aroma leather", "frame", "outlook.will", "Will gain",
       "An aside about what the wine will become"},
      {"Planted on granite.", "aroma granite", "frame", "place.forward", "Planted on", "An aside"},
      {"Pear; serve with fennel.", "aroma fennel", "frame", "pairing.with", "serve with",
       "names food"},
      {"Unlike the oaky one, it is pear.", "aroma oak", "frame", "other.unlike", "Unlike the", "An aside"},
      {"Tar with air.", "aroma tar", "when", "time.with-air", "with air", "With air"},
      {"It used to show tar.", "aroma tar", "when", "time.before", "used to show", "An aside about before"},
      {"We had the Cherry Zorzal again; pear.", "aroma cherry", "frame", "", "Zorzal", "part of a name"},
      {"Nose: pear.", "aroma pear", "phase", "heading.nose", "Nose", "On the nose: ‘Nose’ heads"},
      {"Roses on the nose.", "aroma rose", "phase", "phase.nose", "on the nose", "it is smelled"},
      {"Finishes with clove.", "aroma clove", "phase", "phase.finishes-with", "Finishes with",
       "At the finish"},
      {"Pear.", "aroma pear", "phase", "", "Pear", "nothing near it says which part"},
      {"Nose: guava. Lime, high acidity.", "aroma lime", "phase", "heading.nose", "high",
       "the palate has begun"},
      {"Long.", "structure finish", "phase", "", "Long", "a length is of the finish"},
      {"Corked: no. Another bottle was corked.", "fault cork taint", "words", "", "corked", ""},
  };
  for (const Case& row : rows) check(row);
}

BOOST_AUTO_TEST_CASE(levels) {
  constexpr Case rows[] = {
      {"Firm tannins.", "structure tannin", "level", "", "Firm", "step 4 (firm)"},
      {"Firm tannins.", "structure tannin", "level", "", "Firm", "said of ‘tannins’"},
      {"The tannins are firm.", "structure tannin", "level", "", "firm", "said of ‘tannins’"},
      {"Crisp.", "structure acidity", "level", "", "Crisp", "where it stands alone"},
      {"Plum; long.", "structure finish", "level", "", "long", "between two marks"},
      {"Dries the gums.", "structure tannin", "level", "", "Dries the gums", "by itself"},
      {"Very crisp.", "structure acidity", "level", "", "Very", "further out, to steps 4 to 5"},
      {"Slightly crisp.", "structure acidity", "level", "", "Slightly", "toward the middle"},
      {"Not tannic.", "structure tannin", "level", "negation.no", "Not",
       "which leaves steps 1 to 3 (faint to evident)"},
      {"Not tannic.", "structure tannin", "stance", "negation.no", "Not",
       "is in the level already"},
      {"No tannin.", "structure tannin", "level", "negation.no", "tannin", "step 1 (faint)"},
      {"Tannin 4/5.", "structure tannin", "level", "score.fraction", "4/5", "own scale"},
      {"Firm, not harsh tannins.", "structure tannin", "level", "", "Firm", ""},
  };
  for (const Case& row : rows) check(row);
}

BOOST_AUTO_TEST_CASE(sight_faults_quantities_names) {
  constexpr Case rows[] = {
      {"Ruby with a brick rim.", "sight brick", "place", "", "rim", "At the rim: ‘rim’ goes with it"},
      {"Ruby with a brick rim.", "sight ruby", "place", "", "Ruby", "Of the core"},
      {"Deep ruby.", "sight deep", "words", "", "Deep", "step 4"},
      {"Deep ruby.", "sight deep", "sense", "sense.depth-before-hue", "ruby", "follows it"},
      {"Hazy.", "sight hazy", "words", "", "Hazy", "clarity, hazy"},
      {"Corked.", "fault cork taint", "words", "", "Corked", "one of its names"},
      {"Damp cardboard, plum.", "fault cork taint", "fault", "", "Damp cardboard", "may come of it"},
      {"13.5% alc.", "quantity alcohol", "measure", "alcohol.percent", "13.5% alc.", "in % vol"},
      {"The 2019.", "quantity vintage", "measure", "", "2019", "a year"},
      {"85% Merlot.", "quantity share", "measure", "", "Merlot", "a share of Merlot"},
      {"85% Merlot.", "name Merlot", "words", "", "Merlot", "the name of a grape"},
      {"Balanced.", "trait balanced", "words", "", "Balanced", "the trait ‘balanced’"},
  };
  for (const Case& row : rows) check(row);
}

// Every reading of every line of the corpus is explained, and by what the record itself says.
BOOST_AUTO_TEST_CASE(the_whole_corpus) {
  std::size_t explained = 0;
  for (const std::string& text : corpus()) {
    const Note note = house().read(text);
    Checker(note).all();
    explained += note.aromas().size() + note.readings().size();
  }
  BOOST_TEST(explained > 3000u);
}

// The rule named decides: without it the reading is another, or is explained otherwise.
BOOST_AUTO_TEST_CASE(without_its_rule_the_reading_is_another) {
  constexpr std::array<std::array<std::string_view, 2>, 22> rows{{
      {"No oak.", "negation.no"},
      {"The tar is missing.", "negation.after"},
      {"An unoaked wine.", "negation.unoaked"},
      {"Perhaps tar.", "hedge.before"},
      {"Tar?", "hedge.after"},
      {"A hint of vanilla.", "strength.light"},
      {"Stewed loganberry.", "state.cooked"},
      {"Will gain leather.", "outlook.will"},
      {"Rooted in granite.", "place.forward"},
      {"Pear; serve with fennel.", "pairing.with"},
      {"Tar with air.", "time.with-air"},
      {"Nose: pear; plum.", "heading.nose"},
      {"Roses on the nose.", "phase.nose"},
      {"Finishes with clove.", "phase.finishes-with"},
      {"Not tannic.", "negation.no"},
      {"No tannin.", "negation.no"},
      {"Date, walnut.", "sense.date-fruit"},
      {"Straw, pear.", "sense.straw-first"},
      {"Brown tawny.", "sense.plain-hue-beside-hue"},
      {"A savoury note.", "sense.named-flavour"},
      {"Dusty tannins.", "sense.trait-of-anchor"},
      {"Stalky tannins.", "sense.of-anchor"},
  }};
  for (const auto& [text, rule] : rows) {
    const Note note = house().read(std::string(text));
    bool named = false;
    for (const Told& one : all_told(note))
      for (const Reason& reason : one.why.reasons) named = named || reason.rule == rule;
    BOOST_TEST(named, text << " is not explained by " << rule);
    BOOST_TEST(bare_record(note) != bare_record(without(rule).read(std::string(text))),
               text << " reads the same without " << rule);
  }
}

// Every rule that acts has words of its own or of its kind, and none is a sentence of its own.
BOOST_AUTO_TEST_CASE(every_rule_says_what_it_does) {
  const auto& lexicon = *house().lexicon().compiled();
  std::set<std::string> defaults;
  for (const lexicon::CueRecord& cue : lexicon.cues) {
    const auto role = static_cast<lexicon::Role>(cue.role);
    if (role == lexicon::Role::stop || role == lexicon::Role::decoy) continue;
    const std::string plain = racking::explain::default_because(cue);
    BOOST_TEST((!plain.empty() && !plain.starts_with("bears on")), lexicon.string(cue.id));
    defaults.insert(plain);
  }
  BOOST_TEST(defaults.size() > 10u);
}

BOOST_AUTO_TEST_CASE(a_rule_without_words_is_told_by_its_kind) {
  const Reader reader(Lexicon::house().overlaid(Overlay::parse(
      "[[cue]]\nid = \"mine.nope\"\nrole = \"forward\"\nsets = {stance = \"denied\"}\n"
      "forms = [\"nopety\"]\nstops = [\"clause\"]\n"
      "[[cue]]\nid = \"mine.yep\"\nrole = \"forward\"\nsets = {stance = \"hedged\"}\n"
      "forms = [\"yepety\"]\nbecause = \"shrugs at what follows\"\n")));
  const Note note = reader.read("Nopety tar; yepety plum.");
  BOOST_TEST(all_told(note)[0].why.text.find("‘Nopety’ denies what follows.") != std::string::npos);
  BOOST_TEST(all_told(note)[1].why.text.find("‘yepety’ shrugs at what follows.") !=
             std::string::npos);
  BOOST_CHECK_THROW(Lexicon::house().overlaid(Overlay::parse(
                        "[[cue]]\nid = \"mine.nope\"\nrole = \"forward\"\n"
                        "sets = {stance = \"denied\"}\nforms = [\"nopety\"]\n"
                        "because = \"It denies.\"\n")),
                    Error);
}

BOOST_AUTO_TEST_CASE(what_is_no_reading_of_the_note) {
  const Note note = house().read("Plum."), other = house().read("Tar, pear.");
  const auto is_bad = [](const Error& error) { return error.code() == ErrorCode::bad_argument; };
  BOOST_CHECK_EXCEPTION(note.explain(other.aromas()[0]), Error, is_bad);
  BOOST_CHECK_EXCEPTION(note.explain(Quantity{}), Error, is_bad);
  BOOST_CHECK_EXCEPTION(note.explain_unmapped({0, 4}), Error, is_bad);
  BOOST_CHECK_EXCEPTION(Note().explain(other.aromas()[0]), Error, is_bad);
  const Aroma copy = note.aromas()[0];
  BOOST_TEST(note.explain(copy).text == note.explain(note.aromas()[0]).text);
}

BOOST_AUTO_TEST_CASE(a_note_outlives_its_reader) {
  Note note;
  {
    const Reader reader(Lexicon::house().overlaid(Overlay::parse(
        "[[descriptor]]\nid = \"bellows\"\nparents = [\"leather\"]\nforms = [\"accordion bellows\"]\n")));
    note = reader.read("Accordion bellows.");
  }
  const Note copy = note;
  note = Note();
  BOOST_TEST(copy.explain(copy.aromas()[0]).text.starts_with("Read as bellows (tack room)"));
}

BOOST_AUTO_TEST_CASE(odd_text_is_quoted_well) {
  BOOST_TEST(racking::explain::quoted("a\n  b") == "‘a b’");
  BOOST_TEST(racking::explain::quoted("\xFF" "a") == "‘\xEF\xBF\xBD" "a’");
  BOOST_TEST(racking::explain::quoted(std::string(500, 'x')).size() < 100u);
  const Note note = house().read(std::string(3000, 'x') + " plum \xC3 zzqx");
  for (const Told& one : all_told(note)) BOOST_TEST(!one.why.text.empty());
}

BOOST_AUTO_TEST_SUITE_END()
