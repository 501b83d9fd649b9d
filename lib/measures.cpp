#include "racking/measures.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include "judge/bands.hpp"
#include "lexicon/compiled.hpp"
#include "racking/error.hpp"

namespace racking {
inline namespace v1 {
namespace {

using judge::Fit;
using lexicon::BandRecord;
using lexicon::CompiledLexicon;
using lexicon::no_bound;
using lexicon::UnitRecord;

constexpr double most_sugar = 10'000.0;   // g/L; more is no wine

[[noreturn]] void refuse(const std::string& what) { throw Error(ErrorCode::bad_argument, what); }

void want_finite(double value, const char* what) {
  if (!std::isfinite(value)) refuse(std::string(what) + " is not a finite number");
}

Unit unit_of(const CompiledLexicon& lexicon, const UnitRecord& record) {
  return {static_cast<QuantityKind>(record.kind), lexicon.string(record.name), record.factor,
          record.offset, lexicon.string(record.source)};
}

std::optional<double> number(std::int32_t thousandths) {
  if (thousandths == no_bound) return std::nullopt;
  return thousandths / 1000.0;
}

template <class Enum>
std::vector<Enum> members(std::uint8_t bits) {
  std::vector<Enum> out;
  for (std::uint8_t i = 0; i < 8; ++i)
    if ((bits >> i & 1u) != 0) out.push_back(static_cast<Enum>(i));
  return out;
}

Band band_of(const CompiledLexicon& lexicon, const BandRecord& record) {
  Band band;
  band.id = lexicon.string(record.id);
  band.kind = static_cast<QuantityKind>(record.kind);
  band.rule = static_cast<BandRule>(record.rule);
  band.name = lexicon.string(record.name);
  band.unit = lexicon.string(record.unit);
  band.least = number(record.least);
  band.above = number(record.above);
  band.most = number(record.most);
  band.below = number(record.below);
  band.acid_most = number(record.acid_most);
  band.acid_gap = number(record.acid_gap);
  band.tolerance = record.tolerance / 1000.0;
  band.undosed = record.undosed != 0;
  band.remarked = record.remark != 0;
  for (const std::uint32_t other : lexicon.range(record.beyond))
    band.beyond.push_back(lexicon.string(lexicon.bands[other].id));
  const auto refs = lexicon.range(record.terms);
  for (std::size_t i = 0; i + 1 < refs.size(); i += 2)
    band.terms.push_back(lexicon.string({refs[i], refs[i + 1]}));
  band.styles = members<WineStyle>(record.styles);
  band.colours = members<WineColour>(record.colours);
  band.authority = lexicon.string(record.authority);
  band.source = lexicon.string(record.source);
  band.as_of = lexicon.string(record.as_of);
  return band;
}

std::int64_t grams(double value, const char* what) {
  want_finite(value, what);
  if (value < 0.0 || value > most_sugar)
    refuse(std::string(what) + " is not between 0 and 10,000 g/L");
  return judge::tenths(value);
}

judge::Sugar sugar_of(const Sweetness& sweetness) {
  judge::Sugar out{grams(sweetness.sugar, "the sugar"), {}, sweetness.sugar_added};
  if (sweetness.total_acidity) out.acidity = grams(*sweetness.total_acidity, "the total acidity");
  return out;
}

// Calls `use` with each sweetness term of the style.
template <class Use>
void each_term(const CompiledLexicon& lexicon, WineStyle style, Use&& use) {
  for (const BandRecord& band : lexicon.bands)
    if (band.kind == static_cast<std::uint8_t>(QuantityKind::sugar) &&
        band.rule == static_cast<std::uint8_t>(BandRule::term) && judge::is_of(band, style))
      use(band);
}

}  // namespace

std::vector<Unit> units(const Lexicon& lexicon, QuantityKind kind) {
  const CompiledLexicon& compiled = *lexicon.compiled();
  std::vector<Unit> out;
  for (const UnitRecord& record : compiled.units)
    if (record.kind == static_cast<std::uint8_t>(kind)) out.push_back(unit_of(compiled, record));
  std::stable_partition(out.begin(), out.end(),
                        [](const Unit& unit) { return unit.factor == 1.0 && unit.offset == 0.0; });
  return out;
}

std::optional<double> convert(const Lexicon& lexicon, QuantityKind kind, double value,
                              std::string_view from, std::string_view to) {
  want_finite(value, "the value");
  const CompiledLexicon& compiled = *lexicon.compiled();
  const UnitRecord own{};
  const auto find = [&](std::string_view name) -> std::optional<UnitRecord> {
    if (const UnitRecord* unit = judge::find_unit(compiled, kind, name)) return *unit;
    if (!name.empty() || units(lexicon, kind).empty()) return std::nullopt;
    UnitRecord itself = own;
    itself.factor = 1.0;
    return itself;
  };
  const auto first = find(from), second = find(to);
  if (!first || !second) return std::nullopt;
  return (value * first->factor + first->offset - second->offset) / second->factor;
}

std::vector<Band> bands(const Lexicon& lexicon, QuantityKind kind) {
  std::vector<Band> out;
  for (const BandRecord& record : lexicon.compiled()->bands)
    if (record.kind == static_cast<std::uint8_t>(kind))
      out.push_back(band_of(*lexicon.compiled(), record));
  return out;
}

std::vector<SweetnessTerm> sweetness_terms(const Lexicon& lexicon, const Sweetness& sweetness) {
  const CompiledLexicon& compiled = *lexicon.compiled();
  const judge::Sugar sugar = sugar_of(sweetness);
  std::vector<SweetnessTerm> out;
  each_term(compiled, sweetness.style, [&](const BandRecord& band) {
    const Fit fit = judge::fit(compiled, band, sugar);
    if (fit != Fit::no) out.push_back({band_of(compiled, band), fit == Fit::maybe});
  });
  return out;
}

std::string_view name_of(TermCheck check) noexcept {
  constexpr std::array<std::string_view, 4> names{"fits", "within tolerance", "contradicts",
                                                  "not covered"};
  return names[static_cast<std::size_t>(check)];
}

TermCheck check_sweetness_term(const Lexicon& lexicon, const Sweetness& sweetness,
                               std::string_view term) {
  const CompiledLexicon& compiled = *lexicon.compiled();
  const judge::Sugar sugar = sugar_of(sweetness);
  const std::string folded = judge::folded_term(term);
  TermCheck best = TermCheck::not_covered;
  each_term(compiled, sweetness.style, [&](const BandRecord& band) {
    if (!judge::has_term(compiled, band, folded)) return;
    const TermCheck own = judge::fit(compiled, band, sugar) != Fit::no ? TermCheck::fits
                          : judge::fits_with_tolerance(compiled, band, sugar)
                              ? TermCheck::within_tolerance
                              : TermCheck::contradicts;
    best = std::min(best, own);
  });
  return best;
}

std::vector<Band> broken_limits(const Lexicon& lexicon, QuantityKind kind, double value,
                                std::optional<WineColour> colour,
                                std::optional<WineStyle> style) {
  want_finite(value, "the value");
  const CompiledLexicon& compiled = *lexicon.compiled();
  std::vector<Band> out;
  for (const std::uint32_t index :
       judge::broken_limits(compiled, kind, value, colour, style, false))
    out.push_back(band_of(compiled, compiled.bands[index]));
  return out;
}

std::vector<Band> size_classes(const Lexicon& lexicon, QuantityKind kind, double value) {
  want_finite(value, "the value");
  const CompiledLexicon& compiled = *lexicon.compiled();
  std::vector<Band> out;
  for (const BandRecord& record : compiled.bands)
    if (record.kind == static_cast<std::uint8_t>(kind) &&
        record.rule == static_cast<std::uint8_t>(BandRule::size) &&
        judge::inside(record, judge::in_unit_of(compiled, record, value), 0.0))
      out.push_back(band_of(compiled, record));
  return out;
}

double rescale_score(double score, std::span<const ScorePoint> mapping) {
  want_finite(score, "the score");
  if (mapping.size() < 2) refuse("a mapping of scores needs two points");
  for (std::size_t i = 0; i < mapping.size(); ++i) {
    want_finite(mapping[i].from, "a point of the mapping");
    want_finite(mapping[i].to, "a point of the mapping");
    if (i > 0 && mapping[i].from <= mapping[i - 1].from)
      refuse("the points of a mapping must rise in 'from'");
  }
  if (score < mapping.front().from || score > mapping.back().from)
    refuse("the score is outside the points of the mapping");
  std::size_t next = 1;
  while (mapping[next].from < score) ++next;
  const ScorePoint &a = mapping[next - 1], &b = mapping[next];
  if (score == b.from) return b.to;
  return a.to + (b.to - a.to) * ((score - a.from) / (b.from - a.from));
}

ColourIndices colour_indices(double a420, double a520, double a620, double path_cm) {
  for (const double absorbance : {a420, a520, a620}) {
    want_finite(absorbance, "an absorbance");
    if (absorbance < 0.0) refuse("an absorbance is below nothing");
  }
  want_finite(path_cm, "the path");
  if (path_cm <= 0.0) refuse("the path is not above nothing");
  ColourIndices out;
  out.density = (a420 + a520 + a620) / path_cm;
  if (a520 > 0.0) out.shade = a420 / a520;
  return out;
}

}  // namespace v1
}  // namespace racking
