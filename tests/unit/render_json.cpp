// The record: exact text, both depths, every unit of offsets, escaping, ill-formed bytes.
#include <boost/test/unit_test.hpp>

#include <limits>
#include <memory>
#include <string>
#include <string_view>

#include "note_content.hpp"
#include "racking/racking.hpp"
#include "render/json.hpp"

using namespace racking;

namespace {

std::string quoted(std::string_view text) {
  std::string out;
  render::append_string(out, text);
  return out;
}

std::string number(double value) {
  std::string out;
  render::append_number(out, value);
  return out;
}

const Lexicon& house() {
  static const Lexicon lexicon = Lexicon::house();
  return lexicon;
}

// A note made by hand, so that these tests stand apart from the reading.
class Maker {
 public:
  explicit Maker(std::string text) : content_(std::make_unique<Note::Content>(house())) {
    content_->text = std::move(text);
  }
  Note::Content* operator->() { return content_.get(); }
  Span span(std::string_view words) const {
    const auto at = content_->text.find(words);
    BOOST_REQUIRE(at != std::string::npos);
    return {static_cast<std::uint32_t>(at), static_cast<std::uint32_t>(at + words.size())};
  }
  Slice cue(std::string_view words, std::string_view rule) {
    content_->cues.push_back({span(words), rule});
    return {static_cast<std::uint32_t>(content_->cues.size() - 1), 1};
  }
  Slice pieces(std::initializer_list<Span> spans) {
    const auto begin = static_cast<std::uint32_t>(content_->parts.size());
    content_->parts.insert(content_->parts.end(), spans);
    return {begin, static_cast<std::uint32_t>(spans.size())};
  }
  Aroma aroma(std::string_view id, std::string_view words) const {
    Aroma one;
    one.descriptor = house().find(id).value();
    one.span = span(words);
    return one;
  }
  void reading(Dimension dimension, Interval range, std::string_view words) {
    Reading one;
    one.dimension = dimension;
    one.range = range;
    one.span = span(words);
    content_->structure[dimension].readings.push_back(
        static_cast<std::uint32_t>(content_->readings.size()));
    content_->structure[dimension].range = range;
    content_->readings.push_back(one);
  }
  Note note() { return Note(std::move(content_)); }

 private:
  std::unique_ptr<Note::Content> content_;
};

// The part of a record between its head and `end`.
std::string member(const std::string& json, std::string_view name) {
  const std::string key = "\"" + std::string(name) + "\":";
  const auto at = json.find(key);
  if (at == std::string::npos) return "absent";
  int depth = 0;
  std::size_t end = at + key.size();
  bool in_string = false;
  for (; end < json.size(); ++end) {
    const char c = json[end];
    if (in_string) {
      if (c == '\\') ++end;
      else if (c == '"') in_string = false;
      continue;
    }
    if (c == '"') in_string = true;
    if (c == '[' || c == '{') ++depth;
    if (c == ']' || c == '}') --depth;
    if (depth < 0 || (depth == 0 && c == ',')) break;
  }
  return json.substr(at + key.size(), end - at - key.size());
}

JsonOptions plain() {
  JsonOptions options;
  options.depth = JsonOptions::Depth::plain;
  return options;
}

Note small_note() {
  Maker maker("Some cassis; grippy, dries the gums.");
  Aroma cassis = maker.aroma("blackcurrant", "cassis");
  cassis.strength = Interval{2, 3};
  cassis.cues = maker.cue("Some", "strength.some");
  maker->aromas.push_back(cassis);
  maker.reading(Dimension::tannin, {4, 5}, "grippy");
  maker.reading(Dimension::tannin, {4, 5}, "dries the gums");
  maker->structure.tannin.traits.push_back("gum-drying");
  maker->statements.push_back({{0, 36}, Frame::tasting, Phase::overall});
  return maker.note();
}

}  // namespace

BOOST_AUTO_TEST_SUITE(render_json)

BOOST_AUTO_TEST_CASE(strings_are_escaped) {
  BOOST_TEST(quoted("") == "\"\"");
  BOOST_TEST(quoted("a \"b\" \\ c") == R"("a \"b\" \\ c")");
  BOOST_TEST(quoted("\n\r\t\b\f") == R"("\n\r\t\b\f")");
  BOOST_TEST(quoted(std::string_view("\0\x01\x1f", 3)) == R"("\u0000\u0001\u001f")");
  BOOST_TEST(quoted("\x7f crème brûlée 🍷") == "\"\x7f crème brûlée 🍷\"");
}

// Every byte that needs an escape, at every place of an eight-byte block.
BOOST_AUTO_TEST_CASE(fast_path_misses_no_byte) {
  for (std::size_t length = 1; length <= 24; ++length)
    for (std::size_t at = 0; at < length; ++at)
      for (int byte = 0; byte < 0x80; ++byte) {
        std::string text(length, 'x');
        text[at] = static_cast<char>(byte);
        const bool escaped = byte < 0x20 || byte == '"' || byte == '\\';
        BOOST_REQUIRE_EQUAL(quoted(text).size() > length + 2, escaped);
      }
}

BOOST_AUTO_TEST_CASE(each_maximal_ill_formed_part_is_one_replacement) {
  // Examples of The Unicode Standard 15, 3.9, tables 3-8 to 3-11.
  const std::string fffd = "\xEF\xBF\xBD";
  const auto times = [&](int count) {
    std::string out = "\"";
    for (int i = 0; i < count; ++i) out += fffd;
    return out + "A\"";
  };
  BOOST_TEST(quoted("\xC0\xAF\xE0\x80\xBF\xF0\x81\x82" "A") == times(8));
  BOOST_TEST(quoted("\xED\xA0\x80\xED\xBF\xBF\xED\xAF" "A") == times(8));
  BOOST_TEST(quoted("\xF4\x91\x92\x93\xFF" "A") == times(5));
  BOOST_TEST(quoted("\xE1\x80\xE2\xF0\x91\x92\xF1\xBF" "A") == times(4));
  BOOST_TEST(quoted("caf\xC3") == "\"caf" + fffd + "\"");
}

BOOST_AUTO_TEST_CASE(numbers_are_the_shortest) {
  BOOST_TEST(number(13.5) == "13.5");
  BOOST_TEST(number(1.0) == "1");
  BOOST_TEST(number(0.1) == "0.1");
  BOOST_TEST(number(-0.0) == "0");
  BOOST_TEST(number(100.0) == "100");
  BOOST_TEST(number(std::numeric_limits<double>::quiet_NaN()) == "null");
  BOOST_TEST(number(std::numeric_limits<double>::infinity()) == "null");
}

BOOST_AUTO_TEST_CASE(full_record_as_designed) {
  const Note note = small_note();
  JsonOptions options;
  options.id = "row 7";
  options.tidy = false;
  const std::string lexicon = R"({"name":")" + std::string(house().name()) + R"(","version":")" +
                              std::string(house().version()) + R"(","digest":")" +
                              std::string(house().digest()) + R"("})";
  const std::string expected =
      R"({"schema":1,"lexicon":)" + lexicon +
      R"(,"id":"row 7","text":"Some cassis; grippy, dries the gums.","language":"en",)"
      R"("offsets":"codepoint","wine":{"colour":null,"style":null},)"
      R"("statements":[{"span":[0,36],"frame":"tasting","phase":"overall"}],)"
      R"("aromas":[{"descriptor":"blackcurrant","family":"hedgerow",)"
      R"("path":["hedgerow","currants","blackcurrant"],"span":[5,11],"text":"cassis",)"
      R"("parts":null,"phase":"overall","state":[],"strength":[2,3],"stance":"stated",)"
      R"("when":"now","respelled":false,"cues":[{"span":[0,4],"rule":"strength.some"}]}],)"
      R"("expression":null,"structure":{"acidity":null,"body":null,"tannin":{"range":[4,5],)"
      R"("label":"firm to gripping","conflict":false,"traits":["gum-drying"],"readings":[)"
      R"({"range":[4,5],"span":[13,19],"text":"grippy","stance":"stated","when":"now",)"
      R"("phase":"overall","cues":[]},{"range":[4,5],"span":[21,35],"text":"dries the gums",)"
      R"("stance":"stated","when":"now","phase":"overall","cues":[]}]},"sweetness":null,)"
      R"("alcohol":null,"sparkle":null,"finish":null},"traits":[],"sight":{"core":null,)"
      R"("rim":null,"rim_width_mm":null,"depth":null,"clarity":null,"deposit":null,)"
      R"("bubbles":null,"tears":null},"quantities":[],)"
      R"("condition":{"verdict":"not stated","faults":[]},)"
      R"("maturity":{"stage":null,"evidence":[]},"names":[],"asides":[],"remarks":[],)"
      R"("unmapped":[],"coverage":1,"problems":[]})";
  BOOST_TEST(note.to_json(options) == expected);
}

BOOST_AUTO_TEST_CASE(plain_leaves_out_what_says_nothing) {
  const std::string json = small_note().to_json(plain());
  for (const std::string_view gone : {"null", "[]", "{}", "\"cues\"", "\"tidy\"", "\"names\"",
                                      "\"sight\"", "\"wine\"", "\"caution\""})
    BOOST_TEST(json.find(gone) == std::string::npos, gone << " in " << json);
  BOOST_TEST(member(json, "structure").find(R"({"tannin":{"range":[4,5],)") == 0u);
  BOOST_TEST(member(json, "condition") == R"({"verdict":"not stated"})");
}

BOOST_AUTO_TEST_CASE(tidy_only_in_full_and_when_asked_for) {
  const Note note = small_note();
  JsonOptions options;
  BOOST_TEST(member(note.to_json(options), "tidy") == "\"" + note.tidy() + "\"");
  options.tidy = false;
  BOOST_TEST(member(note.to_json(options), "tidy") == "absent");
  BOOST_TEST(member(note.to_json(plain()), "tidy") == "absent");
}

BOOST_AUTO_TEST_CASE(appends_after_what_is_there) {
  const Note note = small_note();
  std::string out = "[";
  note.append_json(out, plain());
  BOOST_TEST(out == "[" + note.to_json(plain()));
  std::string lines = "{}";
  note.append_json(lines, plain());
  BOOST_TEST(lines.substr(0, 11) == "{}{\"schema\"");
}

BOOST_AUTO_TEST_CASE(offsets_in_every_unit) {
  Maker maker("🍷é cassis");
  maker->aromas.push_back(maker.aroma("blackcurrant", "cassis"));
  const Note note = maker.note();
  JsonOptions options = plain();
  const auto span = [&](Offsets unit) {
    options.offsets = unit;
    return member(note.to_json(options), "span");
  };
  BOOST_TEST(span(Offsets::byte) == "[7,13]");
  BOOST_TEST(span(Offsets::codepoint) == "[3,9]");
  BOOST_TEST(span(Offsets::utf16) == "[4,10]");
}

BOOST_AUTO_TEST_CASE(pieces_states_and_doubt) {
  Maker maker("red and ripe black cherries");
  Aroma red = maker.aroma("cherry", "red and ripe black cherries");
  red.parts = maker.pieces({maker.span("red"), maker.span("cherries")});
  red.state = State::ripe | State::fresh;
  red.stance = Stance::hedged;
  red.when = When::with_air;
  maker->aromas.push_back(red);
  const std::string json = maker.note().to_json();
  BOOST_TEST(member(json, "parts") == "[[0,3],[19,27]]");
  BOOST_TEST(member(json, "state") == R"(["ripe","fresh"])");
  BOOST_TEST(member(json, "when") == R"("with air")");
}

BOOST_AUTO_TEST_CASE(sight_loses_nothing) {
  Maker maker("no ruby, garnet, purple core; deep; hazy; rim 3 to 4 mm");
  const auto hue = [&](Hue its, std::string_view words, Stance stance) {
    Sight one;
    one.hue = its;
    one.span = maker.span(words);
    one.stance = stance;
    maker->sight.push_back(one);
  };
  hue(Hue::ruby, "ruby", Stance::denied);
  hue(Hue::garnet, "garnet", Stance::stated);
  hue(Hue::purple, "purple", Stance::hedged);
  Sight deep;
  deep.part = SightPart::depth;
  deep.range = Interval{4, 4};
  deep.span = maker.span("deep");
  maker->sight.push_back(deep);
  Sight hazy;
  hazy.part = SightPart::clarity;
  hazy.value = "hazy";
  hazy.span = maker.span("hazy");
  maker->sight.push_back(hazy);
  Quantity rim;
  rim.kind = QuantityKind::rim_width;
  rim.low = 3;
  rim.high = 4;
  rim.unit = "mm";
  rim.span = maker.span("3 to 4 mm");
  maker->quantities.push_back(rim);
  const std::string json = maker.note().to_json();
  BOOST_TEST(member(json, "core") == R"({"hue":"garnet","stance":"stated","span":[9,15],"text":"garnet"})");
  BOOST_TEST(member(json, "rim_width_mm") == "[3,4]");
  BOOST_TEST(member(json, "depth") == R"({"range":[4,4],"span":[30,34],"text":"deep","stance":"stated"})");
  BOOST_TEST(member(json, "clarity") == R"({"value":"hazy","span":[36,40],"text":"hazy","stance":"stated"})");
  BOOST_TEST(member(json, "more") ==
             R"([{"part":"core","hue":"ruby","stance":"denied","span":[3,7],"text":"ruby"},)"
             R"({"part":"core","hue":"purple","stance":"hedged","span":[17,23],"text":"purple"}])");
}

BOOST_AUTO_TEST_CASE(asides_in_the_order_of_the_text) {
  Maker maker("corked last time; tannins will soften; serve with mint");
  FaultReading fault;
  fault.fault = Fault::cork_taint;
  fault.frame = Frame::other;
  fault.spans = maker.pieces({maker.span("corked")});
  maker->aside_faults.push_back(fault);
  Aroma mint = maker.aroma("mint", "mint");
  mint.frame = Frame::pairing;
  maker->aside_aromas.push_back(mint);
  Reading soften;
  soften.dimension = Dimension::tannin;
  soften.range = Interval{1, 3};
  soften.span = maker.span("soften");
  soften.frame = Frame::outlook;
  soften.when = When::later;
  maker->aside_readings.push_back(soften);
  const std::string json = member(maker.note().to_json(), "asides");
  const auto fault_at = json.find(R"({"frame":"other","kind":"fault","fault":"cork taint",)");
  const auto soften_at = json.find(
      R"({"frame":"outlook","kind":"structure","dimension":"tannin","range":[1,3],)"
      R"("stance":"stated","when":"later","phase":"overall","span":[31,37],"text":"soften","cues":[]})");
  const auto mint_at = json.find(R"({"frame":"pairing","kind":"aroma","descriptor":"mint",)");
  BOOST_TEST(fault_at == 1u);
  BOOST_TEST(soften_at != std::string::npos);
  BOOST_TEST(mint_at != std::string::npos);
  BOOST_TEST(soften_at < mint_at);
}

BOOST_AUTO_TEST_CASE(condition_maturity_and_figures) {
  Maker maker("corked, 13.5%, 93/100, brick rim");
  FaultReading fault;
  fault.fault = Fault::cork_taint;
  fault.stance = Stance::hedged;
  fault.spans = maker.pieces({maker.span("corked")});
  fault.caution = "Open another.";
  maker->condition = {Verdict::suspect, {fault}};
  maker->maturity.stage = {Stage::mid_life, Stage::late};
  maker->maturity.evidence.push_back({PointsTo::older, maker.span("brick"), "brick rim on a red"});
  Quantity alcohol;
  alcohol.value = 13.5;
  alcohol.unit = "% vol";
  alcohol.span = maker.span("13.5%");
  maker->quantities.push_back(alcohol);
  maker->coverage = 2.0 / 3.0;
  const Note note = maker.note();
  const std::string json = note.to_json();
  BOOST_TEST(member(json, "condition") ==
             R"({"verdict":"suspect","faults":[{"fault":"cork taint","stance":"hedged",)"
             R"("spans":[[0,6]],"caution":"Open another."}]})");
  BOOST_TEST(note.to_json(plain()).find("Open another") == std::string::npos);
  BOOST_TEST(member(json, "maturity") ==
             R"({"stage":["mid-life","late"],"evidence":[{"points_to":"older","span":[23,28],)"
             R"("because":"brick rim on a red"}]})");
  BOOST_TEST(member(json, "quantities") ==
             R"([{"kind":"alcohol","value":13.5,"low":null,"high":null,"unit":"% vol",)"
             R"("out_of":null,"of":null,"frame":"tasting","span":[8,13],"text":"13.5%"}])");
  BOOST_TEST(member(json, "coverage") == "0.667");
}

BOOST_AUTO_TEST_CASE(problems_of_the_caller_come_after_the_note_s_own) {
  Maker maker("caf\xC3 x");
  maker->problems.push_back({"ill-formed-utf-8", {3, 4}, "bytes c3 are not UTF-8"});
  const TextProblem tags{"markup", {0, 3}, "tags were taken out"};
  JsonOptions options = plain();
  options.more_problems = {&tags, 1};
  const std::string json = maker.note().to_json(options);
  BOOST_TEST(member(json, "text") == "\"caf\xEF\xBF\xBD x\"");
  BOOST_TEST(member(json, "problems") ==
             R"([{"code":"ill-formed-utf-8","span":[3,4],"message":"bytes c3 are not UTF-8"},)"
             R"({"code":"markup","span":[0,3],"message":"tags were taken out"}])");
}

BOOST_AUTO_TEST_CASE(notes_are_values) {
  Note note = small_note();
  const std::string json = note.to_json();
  Note copy = note;
  Note moved = std::move(note);
  BOOST_TEST(copy.to_json() == json);
  BOOST_TEST(moved.to_json() == json);
  copy = moved;
  BOOST_TEST(copy.text(copy.aromas()[0].span) == "cassis");
  BOOST_TEST(copy.text({30, 99}) == "");
  BOOST_TEST(copy.cues({5, 7}).size() == 0u);
  const Note empty;
  BOOST_TEST(empty.text() == "");
  BOOST_TEST(empty.tidy() == "");
  BOOST_TEST(member(empty.to_json(), "aromas") == "[]");
}

BOOST_AUTO_TEST_CASE(labels_are_the_house_s) {
  BOOST_TEST(Note::label(Dimension::tannin, {4, 5}) == "firm to gripping");
  BOOST_TEST(Note::label(Dimension::tannin, {4, 4}) == "firm");
  BOOST_TEST(Note::label(Dimension::sweetness, {3, 3}) == "touch of sweetness");
}

BOOST_AUTO_TEST_SUITE_END()
