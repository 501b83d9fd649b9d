// How old a wine seems: the rule. The cues and their weights are data,
// lexicon/condition/maturity.toml.
//
//   1. Each cue of the data that the note meets is a piece of evidence, with its span and its
//      weight, younger or older. Denied readings are none. A hedged reading weighs 1 at most,
//      and so does a brown hue where oxidation or heat damage is read, which brown wines too.
//   2. Of several hues in one place the brownest weighs, whatever else is listed. The first
//      aroma of ageing weighs its full weight, each other 1, `most_aromas` at most; other cues
//      count once each.
//   3. The sum is older less younger. −2 and below: early. Up to 1: early to mid-life. Up to 3:
//      mid-life. Up to 6: mid-life to late. From 7: late.
//   4. One kind of cue never reaches `late`, and two never reach it alone: with one kind that
//      points to older the stage ends at mid-life, with two it is mid-life to late at most.
//   5. Cues that only support (depth, a deposit, tannin) give no stage where no other speaks.
//
// So a browner hue never makes a wine younger: along the order of hues the weights rise, by at
// least the weight of the gradation that a browner core may take away, and the kinds that point
// to older never become fewer.
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

#include "lexicon/compiled.hpp"
#include "racking/vocabulary.hpp"

namespace racking::judge {

inline constexpr int most_aromas = 4;

// The evidence table, laid out so that a reading finds its cue at once.
class AgeIndex {
 public:
  explicit AgeIndex(const lexicon::CompiledLexicon& lexicon);

  // Evidence of a hue in a place of a wine; nullptr for none.
  const lexicon::EvidenceRecord* hue(WineColour wine, bool at_rim, Hue hue) const noexcept {
    const std::uint16_t at = hues_[static_cast<std::size_t>(wine)][at_rim ? 1 : 0]
                                  [static_cast<std::size_t>(hue)];
    return at == 0 ? nullptr : &lexicon_.evidence[at - 1u];
  }
  // All evidence of a cue, hues apart.
  std::span<const lexicon::EvidenceRecord> of(lexicon::AgeCue cue) const noexcept {
    return by_cue_[static_cast<std::size_t>(cue)];
  }
  // Of the evidence at `at` in `of(cue)`: its origins, for aromas, or its states, for fruit.
  std::uint16_t mask(lexicon::AgeCue cue, std::size_t at) const noexcept {
    return masks_[static_cast<std::size_t>(cue)][at];
  }

 private:
  void place_hue(const lexicon::EvidenceRecord& record, std::uint32_t at, std::string_view hue);

  const lexicon::CompiledLexicon& lexicon_;
  std::array<std::array<std::array<std::uint16_t, hue_count>, 2>, 4> hues_{};
  std::array<std::vector<lexicon::EvidenceRecord>, lexicon::age_cue_count> by_cue_;
  std::array<std::vector<std::uint16_t>, lexicon::age_cue_count> masks_;
};

}  // namespace racking::judge
