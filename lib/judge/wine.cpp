#include <array>

#include "context/scopes.hpp"
#include "judge/judge.hpp"

namespace racking::judge {

using lexicon::SenseKind;
using match::Mention;

namespace {

std::optional<WineColour> colour_of(Hue hue) {
  switch (hue) {
    case Hue::ruby: case Hue::garnet: case Hue::brick: case Hue::purple: case Hue::violet:
    case Hue::crimson: case Hue::plum: case Hue::black: case Hue::magenta: case Hue::red:
    case Hue::mahogany: case Hue::rust: case Hue::blue: case Hue::cherry:
      return WineColour::red;
    case Hue::pink: case Hue::salmon: case Hue::onion_skin: case Hue::raspberry:
      return WineColour::rose;
    case Hue::colourless: case Hue::green: case Hue::straw: case Hue::lemon: case Hue::yellow:
    case Hue::gold: case Hue::old_gold:
      return WineColour::white;
    default:
      return std::nullopt;   // amber, copper, tawny, orange: more than one colour comes there
  }
}

// "This white wine": called so, if it is said of this wine and not denied or doubted.
void take_stated(const lexicon::CompiledLexicon& lexicon, const context::Workspace& work,
                 const Mention& mention, Wine& wine) {
  const lexicon::Sense* sense = match::sense_of(lexicon, mention.node, SenseKind::known);
  const lexicon::KnownRecord& known = lexicon.knowns[sense->index];
  if ((known.colour == lexicon::unset && known.style == lexicon::unset) ||
      work.frames[mention.first] != Frame::tasting ||
      context::cue_over(lexicon, work, context::Attribute::stance, mention.last - 1))
    return;
  if (known.colour != lexicon::unset && (!wine.colour || wine.colour_inferred)) {
    wine.colour = static_cast<WineColour>(known.colour);
    wine.colour_inferred = false;
  }
  if (known.style != lexicon::unset && (!wine.style || wine.style_inferred)) {
    wine.style = static_cast<WineStyle>(known.style);
    wine.style_inferred = false;
  }
}

}  // namespace

void infer_wine(const lexicon::CompiledLexicon& lexicon, const context::Workspace& work,
                Note::Content& note) {
  std::optional<WineColour> by_hue, by_name;
  for (const Sight& sight : note.sight)
    if (sight.hue && sight.part == SightPart::core && sight.stance != Stance::denied && !by_hue)
      by_hue = colour_of(*sight.hue);
  for (const Sight& sight : note.sight)
    if (sight.hue && sight.stance != Stance::denied && !by_hue) by_hue = colour_of(*sight.hue);
  // All such forms are of two words or more ("white wine"): single words need no look.
  for (const Mention& mention : work.mentions)
    if (mention.last - mention.first > 1 && mention.may_be(SenseKind::known) && !mention.decided)
      take_stated(lexicon, work, mention, note.wine);
  for (const std::uint32_t index : work.lists.decided) {
    const Mention& mention = work.mentions[index];
    if (!mention.is(SenseKind::name)) continue;
    const lexicon::NameRecord& name = lexicon.names[mention.index];
    if (name.colour != lexicon::unset && !by_name)
      by_name = static_cast<WineColour>(name.colour);
    if (name.style != lexicon::unset && !note.wine.style) {
      note.wine.style = static_cast<WineStyle>(name.style);
      note.wine.style_inferred = true;
    }
  }
  if (!note.wine.colour) {
    note.wine.colour = by_hue ? by_hue : by_name;
    note.wine.colour_inferred = note.wine.colour.has_value();
  }
  const Level& sparkle = note.structure.sparkle;
  if (!note.wine.style && sparkle.range && sparkle.range->low >= 3) {
    note.wine.style = WineStyle::sparkling;
    note.wine.style_inferred = true;
  }
}

}  // namespace racking::judge
