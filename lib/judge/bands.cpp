#include "judge/bands.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "text/tokens.hpp"

namespace racking::judge {

using lexicon::BandRecord;
using lexicon::CompiledLexicon;
using lexicon::no_bound;
using lexicon::UnitRecord;

namespace {

constexpr std::int64_t tenth = 100;              // in thousandths
constexpr std::int64_t sourest = 1'000'000'000;  // above any acidity

bool fits(const CompiledLexicon& lexicon, const BandRecord& band, std::int64_t sugar,
          std::int64_t acidity, bool added) {
  if (band.undosed != 0 && added) return false;
  if (band.least != no_bound && sugar < band.least) return false;
  if (band.above != no_bound && sugar <= band.above) return false;
  if (band.below != no_bound && sugar >= band.below) return false;
  if (band.most != no_bound && sugar > band.most) {
    const bool sour = band.acid_most != no_bound && sugar <= band.acid_most &&
                      sugar - acidity <= band.acid_gap;
    if (!sour) return false;
  }
  for (const std::uint32_t other : lexicon.range(band.beyond))
    if (fits(lexicon, lexicon.bands[other], sugar, acidity, added)) return false;
  return true;
}

constexpr std::uint8_t bit(std::size_t value) noexcept {
  return static_cast<std::uint8_t>(1u << value);
}

}  // namespace

std::int64_t tenths(double grams) noexcept {
  // A decimal such as 0.35 lies a hair below in binary: what is meant counts.
  return static_cast<std::int64_t>(std::llround(grams * 10.0 + 1e-9)) * tenth;
}

// The rules are monotone in the acidity, so that the two ends speak for all between.
Fit fit(const CompiledLexicon& lexicon, const BandRecord& band, const Sugar& sugar) {
  int tried = 0, fitted = 0;
  for (const std::int64_t acidity : {std::int64_t{0}, sourest}) {
    for (const bool added : {false, true}) {
      ++tried;
      fitted += fits(lexicon, band, sugar.sugar, sugar.acidity.value_or(acidity),
                     sugar.added.value_or(added));
    }
  }
  return fitted == 0 ? Fit::no : fitted == tried ? Fit::yes : Fit::maybe;
}

bool fits_with_tolerance(const CompiledLexicon& lexicon, const BandRecord& band,
                         const Sugar& sugar) {
  Sugar near = sugar;
  const std::int64_t least = std::max<std::int64_t>(0, sugar.sugar - band.tolerance);
  for (near.sugar = least; near.sugar <= sugar.sugar + band.tolerance; near.sugar += tenth)
    if (fit(lexicon, band, near) != Fit::no) return true;
  return fit(lexicon, band, sugar) != Fit::no;
}

bool is_of(const BandRecord& band, WineStyle style) noexcept {
  return band.styles == 0 || (band.styles & bit(static_cast<std::size_t>(style))) != 0;
}

std::string folded_term(std::string_view term) {
  text::TokenizedText words;
  text::tokenize(term, words);
  std::string out;
  for (const text::Token& token : words.tokens) (out += words.key(token)) += ' ';
  return out;
}

TermIndex::TermIndex(const CompiledLexicon& lexicon) {
  for (std::uint32_t i = 0; i < lexicon.bands.size(); ++i) {
    const BandRecord& band = lexicon.bands[i];
    if (band.kind != static_cast<std::uint8_t>(QuantityKind::sugar) ||
        band.rule != static_cast<std::uint8_t>(BandRule::term))
      continue;
    const auto refs = lexicon.range(band.terms);
    for (std::size_t at = 0; at + 1 < refs.size(); at += 2)
      bands_[folded_term(lexicon.string({refs[at], refs[at + 1]}))].push_back(i);
  }
}

bool has_term(const CompiledLexicon& lexicon, const BandRecord& band, std::string_view folded) {
  const auto refs = lexicon.range(band.terms);
  for (std::size_t i = 0; i + 1 < refs.size(); i += 2)
    if (folded_term(lexicon.string({refs[i], refs[i + 1]})) == folded) return true;
  return false;
}

const UnitRecord* find_unit(const CompiledLexicon& lexicon, QuantityKind kind,
                            std::string_view name) noexcept {
  for (const UnitRecord& unit : lexicon.units) {
    if (unit.kind != static_cast<std::uint8_t>(kind)) continue;
    if (lexicon.string(unit.name) == name) return &unit;
    const auto refs = lexicon.range(unit.aliases);
    for (std::size_t i = 0; i + 1 < refs.size(); i += 2)
      if (lexicon.string({refs[i], refs[i + 1]}) == name) return &unit;
  }
  return nullptr;
}

double in_unit_of(const CompiledLexicon& lexicon, const BandRecord& band, double value) noexcept {
  const UnitRecord* unit =
      find_unit(lexicon, static_cast<QuantityKind>(band.kind), lexicon.string(band.unit));
  return unit == nullptr ? value : (value - unit->offset) / unit->factor;
}

bool inside(const BandRecord& band, double value, double slack) noexcept {
  // A millionth, far finer than the thousandths of a bound, forgives binary fractions.
  const double at = value * 1000.0, more = slack * 1000.0 + 1e-3;
  return (band.least == no_bound || at >= band.least - more) &&
         (band.above == no_bound || at > band.above - slack * 1000.0 + 1e-3) &&
         (band.most == no_bound || at <= band.most + more) &&
         (band.below == no_bound || at < band.below + slack * 1000.0 - 1e-3);
}

namespace {

bool is_upper(const BandRecord& band) { return band.most != no_bound || band.below != no_bound; }

// How wide a limit is: the widest is the last that a value breaks.
std::int64_t width(const BandRecord& band) {
  const std::int64_t low = std::max(band.least, band.above);
  const std::int64_t high = band.most != no_bound   ? band.most
                            : band.below != no_bound ? band.below
                                                     : std::numeric_limits<std::int32_t>::max();
  return high - std::max<std::int64_t>(low, 0);
}

class Limits {
 public:
  Limits(const CompiledLexicon& lexicon, QuantityKind kind, double value,
         std::optional<WineColour> colour, std::optional<WineStyle> style, bool remarked)
      : lexicon_(lexicon), kind_(kind), value_(value), colour_(colour), style_(style),
        remarked_(remarked) {}

  std::vector<std::uint32_t> broken() const {
    std::vector<std::uint32_t> out;
    for (std::uint32_t i = 0; i < lexicon_.bands.size(); ++i) {
      const BandRecord& band = lexicon_.bands[i];
      if (!is_limit(band) || !breaks(band)) continue;
      const Applies applies = applies_to(band);
      if (applies == Applies::yes || (applies == Applies::perhaps && is_widest_of_all_broken(i)))
        out.push_back(i);
    }
    return out;
  }

 private:
  enum class Applies : std::uint8_t { no, perhaps, yes };

  bool is_limit(const BandRecord& band) const {
    return band.kind == static_cast<std::uint8_t>(kind_) &&
           band.rule == static_cast<std::uint8_t>(BandRule::limit) &&
           (!remarked_ || band.remark != 0);
  }
  bool breaks(const BandRecord& band) const {
    return !inside(band, in_unit_of(lexicon_, band, value_), band.tolerance / 1000.0);
  }
  Applies applies_to(const BandRecord& band) const {
    bool perhaps = false;
    if (band.colours != 0) {
      if (!colour_ || !named(*colour_)) perhaps = true;
      else if ((band.colours & bit(static_cast<std::size_t>(*colour_))) == 0) return Applies::no;
    }
    if (band.styles != 0) {
      if (!style_) perhaps = true;
      else if (!is_of(band, *style_)) return Applies::no;
    }
    return perhaps ? Applies::perhaps : Applies::yes;
  }
  // Whether any limit speaks of the colour at all.
  bool named(WineColour colour) const {
    for (const BandRecord& band : lexicon_.bands)
      if (is_limit(band) && (band.colours & bit(static_cast<std::size_t>(colour))) != 0) return true;
    return false;
  }
  bool is_widest_of_all_broken(std::uint32_t index) const {
    const BandRecord& own = lexicon_.bands[index];
    for (std::uint32_t i = 0; i < lexicon_.bands.size(); ++i) {
      const BandRecord& band = lexicon_.bands[i];
      if (i == index || !is_limit(band) || is_upper(band) != is_upper(own) ||
          lexicon_.string(band.unit) != lexicon_.string(own.unit) ||
          lexicon_.string(band.authority) != lexicon_.string(own.authority) ||
          applies_to(band) == Applies::no)
        continue;
      if (!breaks(band)) return false;
      if (width(band) > width(own) || (width(band) == width(own) && i < index)) return false;
    }
    return true;
  }

  const CompiledLexicon& lexicon_;
  QuantityKind kind_;
  double value_;
  std::optional<WineColour> colour_;
  std::optional<WineStyle> style_;
  bool remarked_;
};

}  // namespace

std::vector<std::uint32_t> broken_limits(const CompiledLexicon& lexicon, QuantityKind kind,
                                         double value, std::optional<WineColour> colour,
                                         std::optional<WineStyle> style, bool remarked) {
  return Limits(lexicon, kind, value, colour, style, remarked).broken();
}

}  // namespace racking::judge
