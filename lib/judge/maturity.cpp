#include <algorithm>
#include <array>

#include "judge/judge.hpp"

// The stage comes from evidence that a taster would accept: hue at core and rim for the wine's
// colour, rim width, fresh against dried fruit, aromas of ageing. Common practice, no source.
// Each piece of evidence weighs one way; no single piece reaches `late`. Tears and places on
// the tongue count for nothing. Browner never makes a wine younger.

namespace racking::judge {

namespace {

struct Weighing {
  int younger = 0, older = 0;
  std::vector<Evidence>& evidence;

  void add(PointsTo points_to, int weight, Span span, std::string_view because) {
    (points_to == PointsTo::older ? older : younger) += weight;
    evidence.push_back({points_to, span, because});
  }
};

struct HueEvidence {
  PointsTo points_to;
  int weight;
  std::string_view at_core, at_rim;
};

std::optional<HueEvidence> of_red(Hue hue) {
  switch (hue) {
    case Hue::purple: case Hue::violet: case Hue::magenta: case Hue::blue:
      return HueEvidence{PointsTo::younger, 2, "purple core on a red", "purple rim on a red"};
    case Hue::garnet:
      return HueEvidence{PointsTo::older, 1, "garnet core on a red", "garnet rim on a red"};
    case Hue::brick: case Hue::rust: case Hue::orange: case Hue::amber:
      return HueEvidence{PointsTo::older, 2, "brick core on a red", "brick rim on a red"};
    case Hue::tawny: case Hue::mahogany: case Hue::brown:
      return HueEvidence{PointsTo::older, 3, "brown core on a red", "brown rim on a red"};
    default: return std::nullopt;
  }
}

std::optional<HueEvidence> of_white(Hue hue) {
  switch (hue) {
    case Hue::colourless: case Hue::green: case Hue::straw: case Hue::lemon:
      return HueEvidence{PointsTo::younger, 1, "pale hue on a white", "green rim on a white"};
    case Hue::old_gold: case Hue::amber: case Hue::topaz: case Hue::bronze:
      return HueEvidence{PointsTo::older, 2, "amber hue on a white", "amber rim on a white"};
    case Hue::brown: case Hue::mahogany:
      return HueEvidence{PointsTo::older, 3, "brown hue on a white", "brown rim on a white"};
    default: return std::nullopt;
  }
}

bool dried_style(const Note::Content& note) {
  // Wine of dried or late-picked grapes tastes of dried fruit from the start.
  for (const Name& name : note.names)
    if (name.kind == NameKind::method && (name.name == "appassimento" || name.name == "late harvest"))
      return true;
  const auto& sweetness = note.structure.sweetness.range;
  return sweetness && sweetness->low >= 4;
}

void weigh_hues(const Note::Content& note, Weighing& weighing) {
  if (!note.wine.colour) return;
  for (const Sight& sight : note.sight) {
    if (!sight.hue || sight.stance == Stance::denied) continue;
    const auto found = *note.wine.colour == WineColour::red     ? of_red(*sight.hue)
                       : *note.wine.colour == WineColour::white ? of_white(*sight.hue)
                                                                : std::nullopt;
    if (!found) continue;
    const int weight = sight.stance == Stance::hedged ? 1 : found->weight;
    weighing.add(found->points_to, weight, sight.span,
                 sight.part == SightPart::rim ? found->at_rim : found->at_core);
  }
}

void weigh_rim_width(const Note::Content& note, Weighing& weighing) {
  constexpr double wide_mm = 5.0;   // the house's own band; common practice, no source
  for (const Quantity& quantity : note.quantities)
    if (quantity.kind == QuantityKind::rim_width && quantity.value && *quantity.value >= wide_mm)
      weighing.add(PointsTo::older, 1, quantity.span, "wide rim");
}

bool is_fruit(Descriptor descriptor) {
  constexpr std::array fruit = {"citrus-grove", "orchard", "hedgerow", "hothouse", "fruit-store"};
  const std::string_view family = descriptor.family() ? descriptor.family().id() : "";
  return std::find(fruit.begin(), fruit.end(), family) != fruit.end();
}

void weigh_aromas(const Note::Content& note, Weighing& weighing) {
  const bool dried = dried_style(note);
  bool ageing_seen = false, dried_seen = false, fresh_seen = false;
  for (const Aroma& aroma : note.aromas) {
    if (aroma.stance == Stance::denied) continue;
    if (aroma.descriptor.has_origin(Origin::ageing) &&
        !aroma.descriptor.has_origin(Origin::cask) &&
        !aroma.descriptor.has_origin(Origin::fermentation) &&
        !aroma.descriptor.has_origin(Origin::grape)) {
      weighing.add(PointsTo::older, ageing_seen ? 1 : 2, aroma.span, "an aroma of ageing");
      ageing_seen = true;
    } else if (!dried && has(aroma.state, State::dried) && !dried_seen &&
               is_fruit(aroma.descriptor)) {
      weighing.add(PointsTo::older, 1, aroma.span, "dried fruit");
      dried_seen = true;
    } else if (has(aroma.state, State::fresh) && is_fruit(aroma.descriptor) && !fresh_seen) {
      fresh_seen = true;
      weighing.add(PointsTo::younger, 1, aroma.span, "fresh fruit");
    }
  }
}

void weigh_words(const Note::Content& note, Weighing& weighing) {
  for (const Trait& trait : note.traits) {
    if (trait.stance == Stance::denied) continue;
    if (trait.id == "youthful")
      weighing.add(PointsTo::younger, 2, trait.span, "called young");
    else if (trait.id == "mature" || trait.id == "evolved")
      weighing.add(PointsTo::older, 2, trait.span, "called mature");
  }
}

std::optional<std::pair<Stage, Stage>> stage(const Weighing& weighing) {
  if (weighing.evidence.empty()) return std::nullopt;
  const int balance = weighing.older - weighing.younger;
  const auto pieces = std::count_if(
      weighing.evidence.begin(), weighing.evidence.end(),
      [](const Evidence& e) { return e.points_to == PointsTo::older; });
  if (balance <= -2) return std::pair{Stage::early, Stage::early};
  if (balance <= 1) return std::pair{Stage::early, Stage::mid_life};
  if (pieces < 2 || balance <= 2) return std::pair{Stage::mid_life, Stage::mid_life};
  if (balance <= 5) return std::pair{Stage::mid_life, Stage::late};
  return std::pair{Stage::late, Stage::late};
}

}  // namespace

void judge_maturity(const lexicon::CompiledLexicon&, Note::Content& note) {
  Weighing weighing{0, 0, note.maturity.evidence};
  weigh_hues(note, weighing);
  weigh_rim_width(note, weighing);
  weigh_aromas(note, weighing);
  weigh_words(note, weighing);
  note.maturity.stage = stage(weighing);
}

}  // namespace racking::judge
