// Bands of measures, in integer thousandths.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "lexicon/compiled.hpp"
#include "racking/vocabulary.hpp"

namespace racking::judge {

// What is known of a wine's sugar, in thousandths of a g/L, whole tenths.
struct Sugar {
  std::int64_t sugar = 0;
  std::optional<std::int64_t> acidity;   // as tartaric acid
  std::optional<bool> added;             // after the second fermentation
};
// To the nearest tenth, as thousandths. The value is finite and not huge.
std::int64_t tenths(double grams) noexcept;

enum class Fit : std::uint8_t { no, maybe, yes };   // maybe: it hangs on what is not known
Fit fit(const lexicon::CompiledLexicon& lexicon, const lexicon::BandRecord& band, const Sugar& sugar);
// Whether some sugar no further off than the band's tolerance may fit.
bool fits_with_tolerance(const lexicon::CompiledLexicon& lexicon,
                         const lexicon::BandRecord& band, const Sugar& sugar);

bool is_of(const lexicon::BandRecord& band, WineStyle style) noexcept;
bool has_term(const lexicon::CompiledLexicon& lexicon, const lexicon::BandRecord& band,
              std::string_view folded);
// Its words without case, accents and hyphens.
std::string folded_term(std::string_view term);

// The bands of each sweetness term, folded once. Immutable; safe to share.
class TermIndex {
 public:
  explicit TermIndex(const lexicon::CompiledLexicon& lexicon);
  // Indices of the bands that the words may be a term of, rising.
  std::span<const std::uint32_t> operator[](const std::string& folded) const {
    const auto found = bands_.find(folded);
    return found == bands_.end() ? std::span<const std::uint32_t>{} : found->second;
  }

 private:
  std::unordered_map<std::string, std::vector<std::uint32_t>> bands_;
};

const lexicon::UnitRecord* find_unit(const lexicon::CompiledLexicon& lexicon, QuantityKind kind,
                                     std::string_view name) noexcept;
// A value in the quantity's own unit, in the band's.
double in_unit_of(const lexicon::CompiledLexicon& lexicon, const lexicon::BandRecord& band,
                  double value) noexcept;

// Indices of the limits that a value in the quantity's own unit is outside of. With
// `remarked`, only of those that a note is told of.
std::vector<std::uint32_t> broken_limits(const lexicon::CompiledLexicon& lexicon,
                                         QuantityKind kind, double value,
                                         std::optional<WineColour> colour,
                                         std::optional<WineStyle> style, bool remarked);
// Whether a value in the band's unit is inside its plain bounds.
bool inside(const lexicon::BandRecord& band, double value, double slack) noexcept;

}  // namespace racking::judge
