#include "judge/judge.hpp"

namespace racking::judge {

namespace {

void firm_tannin_on_white(Note::Content& note) {
  const auto& tannin = note.structure.tannin;
  if (note.wine.colour != WineColour::white || note.wine.colour_inferred || !tannin.range ||
      tannin.range->low < 4)
    return;
  Remark remark{"Firm tannin on a wine called white: skins, stems, oak, or another glass?", {}, "tannic-white"};
  for (const std::uint32_t index : tannin.readings)
    remark.spans.push_back(note.readings[index].span);
  note.remarks.push_back(std::move(remark));
}

void sound_but_suspect(Note::Content& note) {
  if (note.condition.verdict != Verdict::suspect) return;
  for (const Trait& trait : note.traits)
    if (trait.id == "sound" && trait.stance == Stance::stated)
      note.remarks.push_back(
          {"Called sound, yet words of a fault stand beside it: worth a second glass.",
           {trait.span}, "sound-yet-faulty"});
}

}  // namespace

void raise_remarks(Note::Content& note) {
  firm_tannin_on_white(note);
  sound_but_suspect(note);
}

}  // namespace racking::judge
