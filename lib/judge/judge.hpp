// What the readings add up to.
#pragma once

#include <span>
#include <vector>

#include "context/workspace.hpp"
#include "lexicon/compiled.hpp"
#include "judge/bands.hpp"
#include "judge/maturity.hpp"
#include "note_content.hpp"

namespace racking::judge {

// The interval of each dimension from its readings: the rule is in combination.hpp.
void combine_structure(Note::Content& note);

// Colour and style: stated words and names first, else inferred from hues and bubbles.
void infer_wine(const lexicon::CompiledLexicon& lexicon, const context::Workspace& work,
                Note::Content& note);

// What each descriptor has to do with suspicions: most have nothing. A descriptor that a
// suspicion names stands for all below it.
class SuspectIndex {
 public:
  struct Part {
    std::uint32_t suspicion;
    bool is_company;                     // it suggests nothing alone
  };

  explicit SuspectIndex(const lexicon::CompiledLexicon& lexicon);
  std::span<const Part> operator[](std::uint32_t descriptor) const noexcept {
    return std::span(parts_).subspan(begins_[descriptor],
                                     begins_[descriptor + 1] - begins_[descriptor]);
  }
  // The suspicions that are allowances: what makes a fault a style, or says that it passes.
  std::span<const std::uint32_t> allowances() const noexcept { return allowances_; }

 private:
  std::vector<std::uint32_t> begins_, allowances_;
  std::vector<Part> parts_;
};

// Faults that words and descriptors suggest, alone or in company, unless the note names a style
// that smells so; then the verdict.
void judge_condition(const lexicon::CompiledLexicon& lexicon, const SuspectIndex& suspects,
                     const context::Workspace& work, Note::Content& note);

// The stage, from evidence a taster would accept: the rule is in maturity.hpp. A remark where a
// stated age says otherwise; `tasting_year` lets a vintage speak, 0 if it is not known.
void judge_maturity(const lexicon::CompiledLexicon& lexicon, const AgeIndex& index,
                    const context::Workspace& work, Note::Content& note, int tasting_year);

// Unmapped words, and the share of the telling words that something accounts for.
void measure_coverage(const lexicon::CompiledLexicon& lexicon, const context::Workspace& work,
                      Note::Content& note);

// What a careful colleague would raise of the measures: a stated term of sweetness that the sugar
// contradicts, a limit that is passed. Asks nothing of a note without measures.
void remark_measures(const lexicon::CompiledLexicon& lexicon, const TermIndex& terms,
                     const context::Workspace& work, Note::Content& note);

// What a careful colleague would raise; DEVELOPERS.md lists the ids.
void raise_remarks(const context::Workspace& work, Note::Content& note);

}  // namespace racking::judge
