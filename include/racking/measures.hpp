// What can be said of a number: units, legal terms, limits, classes, scores, colour indices.
//
// Bands and units are data of the lexicon, each with its source and the date that it is of; an
// overlay may add to them or say them anew. Nothing here is legal advice: local rules and
// licensed practice come first, and a note is no laboratory result.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "racking/export.hpp"
#include "racking/lexicon.hpp"
#include "racking/vocabulary.hpp"

namespace racking {
inline namespace v1 {

/// A unit of one quantity. Views live as long as the lexicon.
struct Unit {
  QuantityKind kind = QuantityKind::alcohol;
  std::string_view name;     ///< "g/L sulfuric"
  double factor = 1.0;       ///< value × factor + offset is the value in the quantity's own unit,
  double offset = 0.0;       ///< the one that notes are read in: factor 1, offset 0
  std::string_view source;
};

/// A named stretch of one quantity. Bounds are in `unit`. Views live as long as the lexicon.
struct Band {
  std::string_view id;       ///< "eu.sparkling.brut"
  QuantityKind kind = QuantityKind::sugar;
  BandRule rule = BandRule::term;
  std::string_view name;     ///< in English: "brut"
  std::string_view unit;
  std::optional<double> least, above, most, below;  ///< ≥, >, ≤, <
  /// Still sweetness: `most` rises to `acid_most` if sugar is at most `acid_gap` g/L above the
  /// total acidity as tartaric acid.
  std::optional<double> acid_most, acid_gap;
  double tolerance = 0.0;    ///< how far outside a stated term is still borne
  bool undosed = false;      ///< holds only where no sugar was added after the second fermentation
  bool remarked = false;     ///< whether a note outside it gets a remark
  std::vector<std::string_view> beyond;   ///< ids of the bands that it begins above
  std::vector<std::string_view> terms;    ///< its words, in lower case; empty unless a term
  std::vector<WineStyle> styles;          ///< empty: any
  std::vector<WineColour> colours;        ///< empty: any
  std::string_view authority;             ///< "EU", "US", "house"
  std::string_view source, as_of;
};

/// The units of a quantity, its own first. Safe from any thread; so is all below.
RACKING_EXPORT std::vector<Unit> units(const Lexicon&, QuantityKind);
/// Between two units of one quantity; nothing if either is none of its units. The empty name is
/// the quantity's own unit. A pH is never an acidity, and the sugar of must none of a wine's:
/// there is no unit that leads from one to the other. Throws `Error` (bad_argument) for a value
/// that is not finite.
RACKING_EXPORT std::optional<double> convert(const Lexicon&, QuantityKind, double value,
                                             std::string_view from, std::string_view to);

/// The bands of a quantity, in the order of the data.
RACKING_EXPORT std::vector<Band> bands(const Lexicon&, QuantityKind);

/// What is known of a wine's sugar. Both figures are in g/L, and count to the tenth.
struct Sweetness {
  double sugar = 0.0;
  WineStyle style = WineStyle::still;
  std::optional<double> total_acidity = {};   ///< as tartaric acid; still wine only
  std::optional<bool> sugar_added = {};       ///< after the second fermentation; sparkling only
};

/// A term that a wine may bear.
struct SweetnessTerm {
  Band band;
  /// It hangs on what is not known: the acidity, or whether sugar was added.
  bool provisional = false;
};

/// The legal sweetness terms that fit, driest first: several may, as 2 g/L does "extra brut" and
/// "brut". The house's bands are those of Regulation (EU) 2019/33, Annex III, without its
/// tolerance, and cover still and sparkling wine. Liqueur and semi-sparkling wines go by national
/// law: for them it is empty, as long as no overlay says more. A legal term is no perceived
/// level. Integer arithmetic. Throws `Error` (bad_argument) for a figure that is negative, not
/// finite or above 10,000.
RACKING_EXPORT std::vector<SweetnessTerm> sweetness_terms(const Lexicon&, const Sweetness&);

enum class TermCheck : std::uint8_t {
  fits,
  within_tolerance,   ///< only with the tolerance of its band
  contradicts,
  not_covered,        ///< no band of the style has such a term
};
RACKING_EXPORT std::string_view name_of(TermCheck) noexcept;

/// How a stated term ("brut", "Demi-Sec", "halbtrocken": any language of the data, in any case)
/// goes with the sugar. What is not known is taken as the term would have it. Throws as
/// `sweetness_terms` does.
RACKING_EXPORT TermCheck check_sweetness_term(const Lexicon&, const Sweetness&,
                                              std::string_view term);

/// The limits that a value, in the quantity's own unit, is outside of, all authorities together.
/// Where colour or style is not known, limits that differ by it count only if it breaks them all,
/// and then the widest does. An orange wine has no limit of its own in the house's data. Throws
/// `Error` (bad_argument) for a value that is not finite.
RACKING_EXPORT std::vector<Band> broken_limits(const Lexicon&, QuantityKind, double value,
                                               std::optional<WineColour> colour = {},
                                               std::optional<WineStyle> style = {});

/// The classes of size that a value, in the quantity's own unit, falls into: "sparkling" at
/// 4 bar. Throws `Error` (bad_argument) for a value that is not finite.
RACKING_EXPORT std::vector<Band> size_classes(const Lexicon&, QuantityKind, double value);

/// A score and what it is worth on another scale.
struct ScorePoint {
  double from = 0.0, to = 0.0;
};

/// A score on another scale, by the caller's own mapping: straight lines between its points.
/// Racking has none of its own, and keeps each score in the scale it was given in. Throws `Error`
/// (bad_argument) for fewer than two points, points whose `from` does not rise, numbers that are
/// not finite, and a score outside the points.
RACKING_EXPORT double rescale_score(double score, std::span<const ScorePoint> mapping);

/// Colour of reds and rosés by OIV-MA-AS2-07B, from absorbances over 1 cm.
struct ColourIndices {
  double density = 0.0;            ///< A420 + A520 + A620
  std::optional<double> shade;     ///< A420 / A520; nothing if A520 is 0
};

/// `path_cm` is the length of the cell; absorbances are reduced to 1 cm. Three absorbances never
/// give CIELAB, which needs the spectrum. Throws `Error` (bad_argument) for what is negative or
/// not finite, and a path of 0.
RACKING_EXPORT ColourIndices colour_indices(double a420, double a520, double a620,
                                            double path_cm = 1.0);

}  // namespace v1
}  // namespace racking
