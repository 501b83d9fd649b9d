// The ids of the closed lists, each list written once.
#include "racking/vocabulary.hpp"

#include <array>
#include <bit>
#include <cstddef>

namespace racking {
inline namespace v1 {
namespace {

using Id = std::string_view;

// `ids<Enum>` in the order of the enumerators; for the bit sets in the order of the bits.
template <class Enum>
constexpr std::array<Id, 0> ids{};

template <>
constexpr std::array<Id, dimension_count> ids<Dimension>{
    "acidity", "body", "tannin", "sweetness", "alcohol", "sparkle", "finish", "expression"};
template <>
constexpr std::array<Id, 5> ids<Phase>{"sight", "nose", "palate", "finish", "overall"};
template <>
constexpr std::array<Id, 3> ids<Stance>{"stated", "hedged", "denied"};
template <>
constexpr std::array<Id, 4> ids<When>{"now", "with air", "later", "before"};
template <>
constexpr std::array<Id, 8> ids<Frame>{"tasting", "pairing", "making",  "place",
                                       "serving", "name",    "outlook", "other"};
template <>
constexpr std::array<Id, state_count> ids<State>{
    "unripe",  "ripe",      "overripe", "fresh",  "dried",      "cooked",
    "candied", "preserved", "roasted",  "smoked", "fermenting", "bruised"};
template <>
constexpr std::array<Id, 4> ids<Origin>{"grape", "fermentation", "cask", "ageing"};
template <>
constexpr std::array<Id, hue_count> ids<Hue>{
    "colourless", "green",      "straw",  "lemon",   "yellow",  "gold",   "old gold",
    "amber",      "topaz",      "bronze", "brown",   "pink",    "salmon", "onion skin",
    "peach",      "apricot",    "copper", "orange",  "red",     "cherry", "crimson",
    "raspberry",  "magenta",    "violet", "purple",  "plum",    "blue",   "black",
    "ruby",       "garnet",     "brick",  "rust",    "mahogany", "tawny", "honey"};
template <>
constexpr std::array<Id, fault_count> ids<Fault>{
    "cork taint",    "oxidation",      "reduction",       "volatile acidity", "brettanomyces",
    "mousiness",     "heat damage",    "refermentation",  "light strike",     "smoke taint",
    "sulphur dioxide", "geranium taint", "ladybird taint", "earthy taint",    "plastic taint",
    "haze",          "other"};
template <>
constexpr std::array<Id, quantity_kind_count> ids<QuantityKind>{
    "alcohol",  "sugar",       "total acidity", "volatile acidity", "pH",  "sulphur dioxide",
    "pressure", "persistence", "rim width",     "temperature",      "vintage", "age",
    "time in wood", "share",   "score",         "colour density",   "colour shade"};
template <>
constexpr std::array<Id, 5> ids<NameKind>{"grape", "place", "method", "vessel", "closure"};
template <>
constexpr std::array<Id, 4> ids<WineColour>{"red", "rosé", "white", "orange"};
template <>
constexpr std::array<Id, 4> ids<WineStyle>{"still", "semi-sparkling", "sparkling", "fortified"};
template <>
constexpr std::array<Id, 3> ids<Verdict>{"not stated", "sound", "suspect"};
template <>
constexpr std::array<Id, 3> ids<Stage>{"early", "mid-life", "late"};
template <>
constexpr std::array<Id, 3> ids<BandRule>{"term", "limit", "size"};
template <>
constexpr std::array<Id, 7> ids<SightKind>{"depth", "clarity", "deposit", "bubbles",
                                           "tears", "rim",     "colour"};

template <class Enum>
constexpr bool is_bit_set = false;
template <>
constexpr bool is_bit_set<State> = true;
template <>
constexpr bool is_bit_set<Origin> = true;

template <class Enum>
Id id_of(Enum value) noexcept {
  auto index = static_cast<std::size_t>(value);
  if constexpr (is_bit_set<Enum>) {
    if (!std::has_single_bit(index)) return {};
    index = static_cast<std::size_t>(std::countr_zero(index));
  }
  return index < ids<Enum>.size() ? ids<Enum>[index] : Id{};
}

constexpr std::array<std::array<Id, 5>, dimension_count> step_labels{{
    {"slack", "mild", "fresh", "brisk", "sharp"},
    {"slender", "light", "medium", "full", "dense"},
    {"faint", "light", "evident", "firm", "gripping"},
    {"very dry", "dry", "touch of sweetness", "half-sweet", "fully sweet"},
    {"slight", "modest", "mid-strength", "ample", "heady"},
    {"still", "prickling", "gentle", "lively", "vigorous"},
    {"clipped", "short", "fair", "long", "enduring"},
    {"faint", "reserved", "open", "expressive", "powerful"},
}};

}  // namespace

template <class Enum>
std::optional<Enum> parse(std::string_view id) noexcept {
  for (std::size_t i = 0; i < ids<Enum>.size(); ++i)
    if (ids<Enum>[i] == id) {
      if constexpr (is_bit_set<Enum>)
        return static_cast<Enum>(1u << i);
      else
        return static_cast<Enum>(i);
    }
  return std::nullopt;
}

#define RACKING_CLOSED_LIST(Enum)                                            \
  std::string_view name_of(Enum value) noexcept { return id_of(value); }     \
  template RACKING_EXPORT std::optional<Enum> parse<Enum>(std::string_view) noexcept;
RACKING_CLOSED_LIST(Dimension)
RACKING_CLOSED_LIST(Phase)
RACKING_CLOSED_LIST(Stance)
RACKING_CLOSED_LIST(When)
RACKING_CLOSED_LIST(Frame)
RACKING_CLOSED_LIST(State)
RACKING_CLOSED_LIST(Origin)
RACKING_CLOSED_LIST(Hue)
RACKING_CLOSED_LIST(Fault)
RACKING_CLOSED_LIST(QuantityKind)
RACKING_CLOSED_LIST(NameKind)
RACKING_CLOSED_LIST(WineColour)
RACKING_CLOSED_LIST(WineStyle)
RACKING_CLOSED_LIST(Verdict)
RACKING_CLOSED_LIST(Stage)
RACKING_CLOSED_LIST(SightKind)
RACKING_CLOSED_LIST(BandRule)
#undef RACKING_CLOSED_LIST

std::string_view step_label(Dimension dimension, int step) noexcept {
  const auto index = static_cast<std::size_t>(dimension);
  if (index >= dimension_count || step < 1 || step > 5) return {};
  return step_labels[index][static_cast<std::size_t>(step - 1)];
}

}  // namespace v1
}  // namespace racking
