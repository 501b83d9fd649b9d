// The closed lists of the record. Each has `name_of`, the id that records use.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string_view>

#include "racking/export.hpp"

namespace racking {
inline namespace v1 {

/// The seven scales, then the expression of the nose, which has the same shape.
enum class Dimension : std::uint8_t {
  acidity, body, tannin, sweetness, alcohol, sparkle, finish, expression
};
inline constexpr std::size_t dimension_count = 8;
inline constexpr std::size_t scale_count = 7;

enum class Phase : std::uint8_t { sight, nose, palate, finish, overall };
enum class Stance : std::uint8_t { stated, hedged, denied };
enum class When : std::uint8_t { now, with_air, later, before };
enum class Frame : std::uint8_t {
  tasting, pairing, making, place, serving, name, outlook, other
};
/// A set bit for each state an aroma is in.
enum class State : std::uint16_t {
  none = 0, unripe = 1, ripe = 2, overripe = 4, fresh = 8, dried = 16, cooked = 32,
  candied = 64, preserved = 128, roasted = 256, smoked = 512, fermenting = 1024,
  bruised = 2048
};
constexpr State operator|(State a, State b) noexcept {
  return static_cast<State>(static_cast<std::uint16_t>(a) | static_cast<std::uint16_t>(b));
}
constexpr bool has(State set, State one) noexcept {
  return (static_cast<std::uint16_t>(set) & static_cast<std::uint16_t>(one)) != 0;
}
inline constexpr std::size_t state_count = 12;

enum class Origin : std::uint8_t { none = 0, grape = 1, fermentation = 2, cask = 4, ageing = 8 };

enum class Hue : std::uint8_t {
  colourless, green, straw, lemon, yellow, gold, old_gold, amber, topaz, bronze, brown, pink,
  salmon, onion_skin, peach, apricot, copper, orange, red, cherry, crimson, raspberry, magenta,
  violet, purple, plum, blue, black, ruby, garnet, brick, rust, mahogany, tawny, honey
};
inline constexpr std::size_t hue_count = 35;

enum class Fault : std::uint8_t {
  cork_taint, oxidation, reduction, volatile_acidity, brettanomyces, mousiness, heat_damage,
  refermentation, light_strike, smoke_taint, sulphur_dioxide, geranium_taint, ladybird_taint,
  earthy_taint, plastic_taint, haze, other
};
inline constexpr std::size_t fault_count = 17;

enum class QuantityKind : std::uint8_t {
  alcohol, sugar, total_acidity, volatile_acidity, ph, sulphur_dioxide, pressure, persistence,
  rim_width, temperature, vintage, age, time_in_wood, share, score, colour_density, colour_shade
};
inline constexpr std::size_t quantity_kind_count = 17;

enum class NameKind : std::uint8_t { grape, place, method, vessel, closure };
enum class WineColour : std::uint8_t { red, rose, white, orange };
enum class WineStyle : std::uint8_t { still, semi_sparkling, sparkling, fortified };
enum class Verdict : std::uint8_t { not_stated, sound, suspect };
enum class Stage : std::uint8_t { early, mid_life, late };
/// What a band of a measure is: a legal term, a legal limit, or a class of size.
enum class BandRule : std::uint8_t { term, limit, size };
enum class SightKind : std::uint8_t { depth, clarity, deposit, bubbles, tears, rim, colour };

/// The id a record uses, e.g. "with air", "pH", "onion skin". Static storage.
RACKING_EXPORT std::string_view name_of(Dimension) noexcept;
RACKING_EXPORT std::string_view name_of(Phase) noexcept;
RACKING_EXPORT std::string_view name_of(Stance) noexcept;
RACKING_EXPORT std::string_view name_of(When) noexcept;
RACKING_EXPORT std::string_view name_of(Frame) noexcept;
/// One state only; the empty string for none or a set.
RACKING_EXPORT std::string_view name_of(State) noexcept;
RACKING_EXPORT std::string_view name_of(Origin) noexcept;
RACKING_EXPORT std::string_view name_of(Hue) noexcept;
RACKING_EXPORT std::string_view name_of(Fault) noexcept;
RACKING_EXPORT std::string_view name_of(QuantityKind) noexcept;
RACKING_EXPORT std::string_view name_of(NameKind) noexcept;
RACKING_EXPORT std::string_view name_of(WineColour) noexcept;
RACKING_EXPORT std::string_view name_of(WineStyle) noexcept;
RACKING_EXPORT std::string_view name_of(Verdict) noexcept;
RACKING_EXPORT std::string_view name_of(Stage) noexcept;
RACKING_EXPORT std::string_view name_of(SightKind) noexcept;
RACKING_EXPORT std::string_view name_of(BandRule) noexcept;

/// The reverse of `name_of`: `parse<Hue>("onion skin")`. Nothing for other words.
/// Defined for every enumeration above.
template <class Enum>
RACKING_EXPORT std::optional<Enum> parse(std::string_view id) noexcept;

/// An interval of steps on a five-step scale; 1 ≤ low ≤ high ≤ 5.
struct Interval {
  std::uint8_t low = 1;
  std::uint8_t high = 5;

  constexpr int width() const noexcept { return high - low + 1; }
  friend constexpr bool operator==(Interval, Interval) noexcept = default;
};

/// The house's word for a step, 1–5 ("firm" for tannin 4). Static storage.
RACKING_EXPORT std::string_view step_label(Dimension, int step) noexcept;

}  // namespace v1
}  // namespace racking
