#include "marks.hpp"

#include <algorithm>

#include "words.hpp"

namespace note_cleanup {

using racking::Frame;
using racking::Note;
using racking::Phase;
using racking::Span;
using racking::Stance;
using racking::When;

namespace {

// What a reading carries beside its own word: "nose, doubted".
template <class Reading>
std::string circumstances(const Reading& reading, Phase phase) {
  std::vector<std::string> parts;
  if (phase != Phase::overall) parts.emplace_back(name_of(phase));
  if (reading.stance == Stance::hedged) parts.emplace_back("doubted");
  if (reading.stance == Stance::denied) parts.emplace_back("not found");
  if (reading.when != When::now) parts.emplace_back(name_of(reading.when));
  if (reading.frame != Frame::tasting) parts.emplace_back(name_of(reading.frame));
  const std::string all = join(parts, ", ");
  return all.empty() ? "" : " (" + all + ")";
}

template <class Reading>
Line line_of(const Reading& reading) {
  if (reading.frame != Frame::tasting || reading.when == When::later ||
      reading.when == When::before)
    return Line::dashed;
  return reading.stance == Stance::stated ? Line::solid : Line::dotted;
}

class Collector {
 public:
  explicit Collector(const Note& note) : note_(note) {}

  void add(std::vector<Span> pieces, Line line, std::string meaning) {
    std::erase_if(pieces,
                  [&](Span piece) { return piece.empty() || piece.end > note_.text().size(); });
    if (pieces.empty()) return;
    std::sort(pieces.begin(), pieces.end());
    const auto same = std::find_if(marks_.begin(), marks_.end(), [&](const Mark& mark) {
      return mark.pieces == pieces && mark.line == line;
    });
    if (same == marks_.end())
      marks_.push_back({std::move(pieces), line, {std::move(meaning)}});
    else if (std::find(same->meanings.begin(), same->meanings.end(), meaning) ==
             same->meanings.end())
      same->meanings.push_back(std::move(meaning));
  }

  std::vector<Span> pieces(Span span, racking::Slice parts) const {
    const auto of = note_.parts(parts);
    return of.empty() ? std::vector<Span>{span} : std::vector<Span>(of.begin(), of.end());
  }

  void aroma(const racking::Aroma& aroma) {
    const racking::Descriptor family = aroma.descriptor.family();
    std::string meaning(aroma.descriptor.label());
    if (family && family != aroma.descriptor) meaning += ", " + std::string(family.label());
    for (std::size_t bit = 0; bit < racking::state_count; ++bit) {
      const auto state = static_cast<racking::State>(1U << bit);
      if (has(aroma.state, state)) meaning += ", " + std::string(name_of(state));
    }
    if (aroma.strength) meaning += ", " + strength(*aroma.strength);
    if (aroma.respelled) meaning += ", respelled";
    add(pieces(aroma.span, aroma.parts), line_of(aroma),
        meaning + circumstances(aroma, aroma.phase));
  }

  void reading(const racking::Reading& reading) {
    std::string meaning(name_of(reading.dimension));
    if (reading.range) meaning += ": " + Note::label(reading.dimension, *reading.range);
    add({reading.span}, line_of(reading), meaning + circumstances(reading, reading.phase));
  }

  void trait(const racking::Trait& trait) {
    add({trait.span}, line_of(trait), std::string(trait.id) + circumstances(trait, trait.phase));
  }

  void sight(const racking::Sight& sight) {
    constexpr std::array<const char*, 7> names{"colour",  "rim",     "depth", "clarity",
                                               "deposit", "bubbles", "tears"};
    std::string meaning = names.at(static_cast<std::size_t>(sight.part));
    if (sight.hue)
      meaning += ": " + std::string(name_of(*sight.hue));
    else if (!sight.value.empty())
      meaning += ": " + std::string(sight.value);
    add({sight.span}, line_of(sight), meaning + circumstances(sight, Phase::overall));
  }

  void quantity(const racking::Quantity& quantity) {
    std::string meaning =
        std::string(name_of(quantity.kind)) + ": " + quantity_words(quantity, true);
    if (quantity.frame != Frame::tasting)
      meaning += " (" + std::string(name_of(quantity.frame)) + ")";
    add({quantity.span}, quantity.frame == Frame::tasting ? Line::solid : Line::dashed, meaning);
  }

  void fault(const racking::FaultReading& fault) {
    const auto spans = note_.parts(fault.spans);
    std::string meaning = "condition: " + std::string(name_of(fault.fault));
    add({spans.begin(), spans.end()}, line_of(fault),
        meaning + circumstances(fault, Phase::overall));
  }

  std::vector<Mark> sorted() {
    std::stable_sort(marks_.begin(), marks_.end(), [](const Mark& a, const Mark& b) {
      return a.pieces.front() < b.pieces.front();
    });
    return std::move(marks_);
  }

 private:
  static std::string strength(racking::Interval range) {
    constexpr std::array<const char*, 5> words{"trace", "light", "clear", "marked", "dominant"};
    std::string text = words.at(static_cast<std::size_t>(range.low - 1));
    if (range.width() > 1)
      text += std::string(" to ") + words.at(static_cast<std::size_t>(range.high - 1));
    return text;
  }

  const Note& note_;
  std::vector<Mark> marks_;
};

}  // namespace

std::vector<Mark> marks_of(const Note& note) {
  Collector collector(note);
  for (const auto& aroma : note.aromas()) collector.aroma(aroma);
  for (const auto& reading : note.readings()) collector.reading(reading);
  for (const auto& trait : note.traits()) collector.trait(trait);
  for (const auto& sight : note.sight()) collector.sight(sight);
  for (const auto& quantity : note.quantities()) collector.quantity(quantity);
  for (const auto& fault : note.condition().faults) collector.fault(fault);
  for (const auto& aroma : note.aside_aromas()) collector.aroma(aroma);
  for (const auto& reading : note.aside_readings()) collector.reading(reading);
  for (const auto& trait : note.aside_traits()) collector.trait(trait);
  for (const auto& sight : note.aside_sight()) collector.sight(sight);
  for (const auto& fault : note.aside_faults()) collector.fault(fault);
  return collector.sorted();
}

}  // namespace note_cleanup
