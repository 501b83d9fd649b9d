// The shape of the TOML format: which kinds of entry there are and what each may hold.
#pragma once

#include <cstdint>
#include <span>
#include <string_view>

namespace racking::lexicon {

// The closed lists that a value may be held to.
enum class ClosedList : std::uint8_t {
  any, dimension, phase, stance, when, frame, state, origin, hue, fault, quantity_kind,
  name_kind, wine_colour, wine_style, sight_kind, depth, clarity, shift, role, stop, sense_kind,
  sense_choice, known_class, tell, inflection, inflection_after, list, band_rule, number_role,
  age_cue, points_to, alone
};
// Its ids, in the order of the enumeration where there is one.
std::span<const std::string_view> members(ClosedList list);
// The position of an id in its list; -1 for none.
int position(ClosedList list, std::string_view id);

enum class ValueType : std::uint8_t {
  text, texts,      // a string, a list of strings
  steps,            // [low, high], 1 to 5
  number, boolean,
  nouns, adjectives, fixed_forms,   // lists of forms
  sets,             // the inline table of a cue
};
std::string_view describe(ValueType type);   // "a list of strings"

struct Key {
  std::string_view name;
  ValueType type;
  bool required = false;
  ClosedList list = ClosedList::any;
};
struct Kind {
  std::string_view name;
  std::span<const Key> keys;
};
std::span<const Kind> kinds();
const Kind* find_kind(std::string_view name);
// The keys of a cue's `sets`, stored in an Entry as "sets.stance" and so on.
std::span<const Key> set_keys();

}  // namespace racking::lexicon
