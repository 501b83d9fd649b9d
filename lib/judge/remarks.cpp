// What a careful colleague would raise on reading a note: few, gentle, each with its words.
#include <algorithm>
#include <array>
#include <optional>

#include "judge/judge.hpp"

namespace racking::judge {

namespace {

bool is_stated_now(const auto& one) {
  return one.stance == Stance::stated && one.when == When::now;
}

class Remarks {
 public:
  Remarks(const context::Workspace& work, Note::Content& note) : work_(work), note_(note) {}

  void raise() {
    tannic_white();
    sound_yet_faulty();
    still_yet_sparkling();
    other_colour();
    age_and_hue();
    said_both_ways(Dimension::sweetness);
    said_both_ways(Dimension::finish);
    clear_and_cloudy();
    found_and_denied();
    cork_taint_without_cork();
  }

 private:
  void add(std::string text, std::vector<Span> spans, std::string_view id) {
    std::sort(spans.begin(), spans.end());
    spans.erase(std::unique(spans.begin(), spans.end()), spans.end());
    note_.remarks.push_back({std::move(text), std::move(spans), id});
  }

  std::string quoted(Span span) const {
    return "“" + note_.text.substr(span.begin, span.end - span.begin) + "”";
  }

  const Trait* stated_trait(std::string_view id) const {
    for (const Trait& trait : note_.traits)
      if (trait.id == id && is_stated_now(trait)) return &trait;
    return nullptr;
  }

  bool is_called(WineColour colour) const {
    return note_.wine.colour == colour && !note_.wine.colour_inferred;
  }

  // ---- tannin on a white ----

  // Skins, stems, oak or lees give a white its grip.
  bool grip_is_explained() const {
    constexpr std::array methods = {
        "Skin contact",       "Skin-fermented white", "Whole-bunch fermentation",
        "Lees ageing",        "Lees stirring",        "Barrel fermentation",
        "Barrel ageing",      "Oak alternatives",     "Minimal intervention"};
    for (const Name& name : note_.names)
      if (name.kind == NameKind::vessel ||
          std::find(methods.begin(), methods.end(), name.name) != methods.end())
        return true;
    return std::any_of(note_.aromas.begin(), note_.aromas.end(), [](const Aroma& aroma) {
      return aroma.stance != Stance::denied && aroma.descriptor.has_origin(Origin::cask) &&
             !aroma.descriptor.has_origin(Origin::grape);
    });
  }

  void tannic_white() {
    const Level& tannin = note_.structure.tannin;
    if (!tannin.range || tannin.range->low < 4 || !is_called(WineColour::white) ||
        grip_is_explained())
      return;
    std::vector<Span> spans;
    for (const std::uint32_t index : tannin.readings)
      if (note_.readings[index].stance == Stance::stated) spans.push_back(note_.readings[index].span);
    if (!spans.empty())
      add("Firm tannin on a wine called white: skins, stems, oak, or another glass?",
          std::move(spans), "tannic-white");
  }

  // ---- condition ----

  void sound_yet_faulty() {
    if (note_.condition.verdict != Verdict::suspect) return;
    const Trait* sound = stated_trait("sound");
    if (!sound) return;
    std::vector<Span> spans{sound->span};
    for (const FaultReading& fault : note_.condition.faults)
      if (fault.stance != Stance::denied) spans.push_back(note_.parts[fault.spans.begin]);
    add("Called sound, yet words of a fault stand beside it: worth a second glass.",
        std::move(spans), "sound-yet-faulty");
  }

  void cork_taint_without_cork() {
    constexpr std::array closures = {"Screwcap", "Crown cap", "Glass stopper", "Synthetic cork",
                                     "Pull cap"};
    for (const FaultReading& fault : note_.condition.faults) {
      if (fault.fault != Fault::cork_taint || fault.stance == Stance::denied) continue;
      for (const Name& name : note_.names)
        if (name.kind == NameKind::closure &&
            std::find(closures.begin(), closures.end(), name.name) != closures.end())
          return add("Cork taint without a cork: rare, though a cellar can give it. Another musty taint?",
                     {name.span, note_.parts[fault.spans.begin]}, "cork-taint-without-cork");
    }
  }

  // ---- look ----

  void still_yet_sparkling() {
    if (note_.wine.style != WineStyle::still || note_.wine.style_inferred) return;
    for (const Reading& reading : note_.readings)
      if (reading.dimension == Dimension::sparkle && is_stated_now(reading) && reading.range &&
          reading.range->low >= 4)
        return add("Called still, yet its bubbles are lively: a new ferment, or another glass?",
                   {reading.span}, "still-yet-sparkling");
  }

  static bool is_reds_alone(Hue hue) {
    switch (hue) {
      case Hue::ruby: case Hue::garnet: case Hue::purple: case Hue::crimson: case Hue::violet:
      case Hue::black: case Hue::mahogany:
        return true;
      default: return false;
    }
  }
  static bool is_whites_alone(Hue hue) {
    return hue == Hue::straw || hue == Hue::lemon || hue == Hue::green || hue == Hue::colourless;
  }

  void other_colour() {
    const bool white = is_called(WineColour::white), red = is_called(WineColour::red);
    if (!white && !red) return;
    for (const Sight& sight : note_.sight)
      if (sight.hue && sight.part == SightPart::core && is_stated_now(sight) &&
          (white ? is_reds_alone(*sight.hue) : is_whites_alone(*sight.hue)))
        return add(std::string("Called a ") + (white ? "white" : "red") + ", yet its colour is " +
                       std::string(name_of(*sight.hue)) + ": the right glass?",
                   {sight.span}, "colour-of-another-wine");
  }

  // A word for its age, and a hue that says the opposite.
  void age_and_hue() {
    const Trait* young = stated_trait("youthful-feel");
    const Trait* old = stated_trait("mature");
    if (!old) old = stated_trait("past-its-best");
    if ((!young && !old) || !note_.wine.colour) return;
    for (const Sight& sight : note_.sight) {
      if (!sight.hue || !is_stated_now(sight)) continue;
      const std::string where = sight.part == SightPart::rim ? " at the rim" : "";
      if (old && is_of_youth(*note_.wine.colour, *sight.hue))
        return add("Called mature, yet " + std::string(name_of(*sight.hue)) + where +
                       ": is the colour right?", {old->span, sight.span}, "mature-yet-young-hue");
      if (young && !old && is_of_age(*note_.wine.colour, *sight.hue))
        return add("Called young, yet " + std::string(name_of(*sight.hue)) + where +
                       ": is the colour right?", {young->span, sight.span}, "young-yet-old-hue");
    }
  }

  static bool is_of_youth(WineColour wine, Hue hue) {
    if (wine == WineColour::red)
      return hue == Hue::purple || hue == Hue::violet || hue == Hue::magenta || hue == Hue::blue;
    return wine == WineColour::white && (hue == Hue::green || hue == Hue::colourless);
  }
  static bool is_of_age(WineColour wine, Hue hue) {
    if (hue == Hue::brown || hue == Hue::mahogany) return wine != WineColour::orange;
    return (wine == WineColour::red && (hue == Hue::tawny || hue == Hue::brick)) ||
           (wine == WineColour::white && hue == Hue::amber);
  }

  void clear_and_cloudy() {
    const Sight *clear = nullptr, *cloudy = nullptr;
    for (const Sight& sight : note_.sight) {
      if (sight.part != SightPart::clarity || !is_stated_now(sight)) continue;
      if (sight.value == "clear" || sight.value == "brilliant") clear = &sight;
      if (sight.value == "cloudy") cloudy = &sight;
    }
    if (clear && cloudy)
      add("The note calls it both " + quoted(clear->span) + " and " + quoted(cloudy->span) + ".",
          {clear->span, cloudy->span}, "both-ways");
  }

  // ---- said twice, and otherwise ----

  // The stops of the text between two spans, whichever comes first.
  std::uint16_t stops_between(Span a, Span b) const {
    const std::uint32_t from = std::min(a.end, b.end), to = std::max(a.begin, b.begin);
    std::uint16_t found = 0;
    for (std::uint32_t t = 0; t < work_.token_count(); ++t) {
      const std::uint32_t at = work_.text.tokens[t].span.begin;
      if (at >= from && at <= to) found |= work_.stops[t];
    }
    return found;
  }

  // Only of the finish and of sweetness, which a wine has one of: tannin and acidity are soft at
  // first and firm by the end. Across sentences, which are often of several wines, only where
  // the finish is named both times.
  void said_both_ways(Dimension dimension) {
    const Level& level = note_.structure[dimension];
    if (!level.conflict) return;
    for (std::size_t i = 0; i < level.readings.size(); ++i)
      for (std::size_t j = i + 1; j < level.readings.size(); ++j) {
        const Reading &a = note_.readings[level.readings[i]], &b = note_.readings[level.readings[j]];
        if (are_at_odds(a, b))
          return add("The note says both " + quoted(a.span) + " and " + quoted(b.span) + ".",
                     {a.span, b.span}, "both-ways");
      }
  }

  // Two steps lie between them at least, and both are said of the same moment and part.
  bool are_at_odds(const Reading& a, const Reading& b) const {
    if (!a.range || !b.range || !is_stated_now(a) || !is_stated_now(b) || a.phase != b.phase)
      return false;
    if (std::max(b.range->low - a.range->high, a.range->low - b.range->high) < 2) return false;
    constexpr auto apart = static_cast<std::uint16_t>(
        context::bits(lexicon::Stop::line) | context::bits(lexicon::Stop::clause) |
        context::bits(lexicon::Stop::contrast) | context::sentence_stop);
    const std::uint16_t stops = stops_between(a.span, b.span) & apart;
    return stops == 0 || (a.dimension == Dimension::finish && stops == context::sentence_stop &&
                          is_named(a.span) && is_named(b.span));
  }

  bool is_named(Span span) const {
    return note_.text.find(' ', span.begin) < span.end;   // two words: the level and its noun
  }

  void found_and_denied() {
    for (const Aroma& denied : note_.aromas) {
      if (denied.stance != Stance::denied || denied.when != When::now) continue;
      for (const Aroma& found : note_.aromas)
        if (found.descriptor == denied.descriptor && found.phase == denied.phase &&
            is_stated_now(found) &&
            !(stops_between(found.span, denied.span) & context::bits(lexicon::Stop::line)))
          return add("The note both finds and denies " + std::string(found.descriptor.label()) + ".",
                     {found.span, denied.span}, "found-and-denied");
    }
  }

  const context::Workspace& work_;
  Note::Content& note_;
};

}  // namespace

void raise_remarks(const context::Workspace& work, Note::Content& note) {
  Remarks(work, note).raise();
}

}  // namespace racking::judge
