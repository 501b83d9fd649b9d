#include "lexicon/shape.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <utility>

#include "racking/vocabulary.hpp"

namespace racking::lexicon {
namespace {

using Id = std::string_view;

template <class Enum, std::size_t count, bool bits = false>
std::span<const Id> ids() {
  static const auto list = [] {
    std::array<Id, count> out;
    for (std::size_t i = 0; i < count; ++i)
      out[i] = name_of(static_cast<Enum>(bits ? std::size_t{1} << i : i));
    return out;
  }();
  return list;
}

constexpr Id depth_ids[] = {"watery", "pale", "mid-depth", "deep", "opaque"};
constexpr Id clarity_ids[] = {"brilliant", "clear", "hazy", "cloudy"};
constexpr Id shift_ids[] = {"up", "down", "high", "low"};
constexpr Id role_ids[] = {"forward", "backward", "both",   "stop",  "decoy",   "heading",
                           "here",    "around",   "weighed", "reply", "verdict", "subject"};
constexpr Id stop_ids[] = {"line",  "clause", "comma",    "contrast", "verb", "conjunction",
                           "phase", "frame",  "negation", "preposition", "determiner", "copula", "place",
                           "home",  "turn"};
constexpr Id sense_ids[] = {"descriptor", "phrase", "level", "anchor", "modifier",  "trait", "hue",
                            "sight",      "fault",  "hint",  "companion", "name",   "cue",   "known",
                            "none"};
constexpr Id known_ids[] = {"function", "talk"};
constexpr Id tell_ids[] = {"fr", "it", "es", "de", "pt", "wine", "vessel", "ordinal", "pairing",
                           "making", "place", "serving", "other", "tasted", "amount", "kitchen",
                           "trade", "letter", "verse", "scent", "drink", "home", "weather",
                           "code", "elsewhere", "portion", "several", "pronoun", "compared", "undated"};
constexpr Id inflection_ids[] = {"plural", "adjective"};
constexpr Id after_ids[] = {"vowel", "consonant"};
constexpr Id list_ids[] = {"or", "against", "of", "both", "head", "part", "pair"};
constexpr Id number_ids[] = {"count", "hundred", "part", "point", "joint", "article", "measured"};
constexpr Id age_cue_ids[] = {"core",  "rim",   "gradation", "rim-width", "depth", "deposit",
                              "aroma", "fruit", "tannin",    "words",     "age"};
constexpr Id points_to_ids[] = {"younger", "older"};
constexpr Id alone_ids[] = {"comma", "sentence"};

using enum ValueType;
using List = ClosedList;

constexpr Key family_keys[] = {
    {"id", text, true}, {"label", text}, {"gloss", text}, {"forms", nouns},
    {"adjectives", adjectives}, {"fixed", fixed_forms}, {"origin", texts, false, List::origin},
    {"compounds", texts}, {"state", texts, false, List::state}, {"extends", boolean},
    {"examples", texts}};
constexpr Key descriptor_keys[] = {
    {"id", text, true}, {"label", text}, {"gloss", text}, {"parents", texts}, {"forms", nouns},
    {"adjectives", adjectives}, {"fixed", fixed_forms}, {"origin", texts, false, List::origin},
    {"compounds", texts}, {"state", texts, false, List::state}, {"extends", boolean},
    {"examples", texts}};
constexpr Key compound_keys[] = {
    {"id", text, true}, {"label", text, true}, {"source", text, true}};
constexpr Key anchor_keys[] = {{"dimension", text, true, List::dimension},
                               {"forms", nouns, true}, {"examples", texts}};
constexpr Key level_keys[] = {
    {"forms", fixed_forms, true}, {"acidity", steps}, {"body", steps}, {"tannin", steps},
    {"sweetness", steps}, {"alcohol", steps}, {"sparkle", steps}, {"finish", steps},
    {"expression", steps}, {"trait", text}, {"traits", texts},
    {"alone", text, false, List::dimension}, {"fragment", text, false, List::dimension},
    {"examples", texts}};
constexpr Key phrase_keys[] = {
    {"forms", fixed_forms, true}, {"dimension", text, false, List::dimension}, {"range", steps},
    {"trait", text}, {"traits", texts}, {"examples", texts}};
constexpr Key modifier_keys[] = {{"forms", fixed_forms, true},
                                 {"shift", text, true, List::shift}, {"examples", texts}};
constexpr Key trait_keys[] = {{"id", text, true}, {"forms", fixed_forms}, {"examples", texts}};
constexpr Key hue_keys[] = {{"id", text, true, List::hue}, {"forms", fixed_forms},
                            {"adjectives", adjectives}, {"examples", texts}};
constexpr Key sight_keys[] = {{"kind", text, true, List::sight_kind}, {"value", text},
                              {"range", steps}, {"forms", fixed_forms, true},
                              {"examples", texts}};
constexpr Key fault_keys[] = {
    {"id", text, true, List::fault}, {"forms", fixed_forms}, {"hints", fixed_forms},
    {"compounds", texts}, {"confused_with", texts, false, List::fault}, {"caution", text},
    {"examples", texts}};
constexpr Key suspicion_keys[] = {
    {"fault", text, true, List::fault}, {"any", texts, true}, {"with", texts},
    {"forms_with", fixed_forms}, {"exact", boolean}, {"remark", text}, {"examples", texts}};
constexpr Key allowance_keys[] = {
    {"fault", text, true, List::fault}, {"traits", texts}, {"names", texts},
    {"forms", fixed_forms}, {"welcome", boolean}, {"examples", texts}};
constexpr Key evidence_keys[] = {
    {"id", text, true}, {"cue", text, true, List::age_cue}, {"values", texts}, {"range", steps},
    {"least", number}, {"most", number}, {"wine", texts, false, List::wine_colour},
    {"points_to", text, true, List::points_to}, {"weight", number}, {"supports", boolean},
    {"unless", texts}, {"unless_sweet", boolean}, {"because", text, true}};
constexpr Key name_keys[] = {
    {"kind", text, true, List::name_kind}, {"name", text, true}, {"forms", fixed_forms, true},
    {"colour", text, false, List::wine_colour}, {"style", text, false, List::wine_style},
    {"examples", texts}};
constexpr Key known_keys[] = {
    {"class", text, true, List::known_class}, {"forms", fixed_forms, true},
    {"colour", text, false, List::wine_colour}, {"style", text, false, List::wine_style},
    {"examples", texts}};
constexpr Key tell_keys[] = {{"of", text, true, List::tell}, {"words", texts, true}, {"shared", boolean},
                             {"weight", number}};
constexpr Key slot_keys[] = {
    {"id", text, true}, {"words", texts}, {"names", texts, false, List::name_kind},
    {"slots", texts}, {"extends", boolean}};
constexpr Key cue_keys[] = {
    {"id", text, true}, {"role", text, true, List::role}, {"sets", sets},
    {"forms", fixed_forms}, {"stops", texts, false, List::stop}, {"limit", number}, {"least", number},
    {"list", text, false, List::list}, {"contrasted", boolean}, {"bare", boolean},
    {"is", texts, false, List::stop}, {"because", text},
    {"examples", texts}};
constexpr Key cue_set_keys[] = {
    {"stance", text, false, List::stance}, {"when", text, false, List::when},
    {"frame", text, false, List::frame}, {"phase", text, false, List::phase},
    {"state", texts, false, List::state}, {"strength", steps}, {"texture", boolean}};
constexpr Key sense_keys[] = {
    {"id", text, true}, {"among", texts, false, List::sense_kind}, {"forms", fixed_forms},
    {"choose", text, true, List::sense_choice}, {"phase", texts, false, List::phase},
    {"next", texts}, {"previous", texts}, {"not_next", texts}, {"not_previous", texts},
    {"next_kind", texts, false, List::sense_kind}, {"previous_kind", texts, false, List::sense_kind},
    {"company", texts, false, List::sense_kind}, {"first", boolean}, {"capital", boolean},
    {"alone", text, false, List::alone},
    {"because", text}, {"examples", texts}};
constexpr Key inflection_keys[] = {
    {"kind", text, true, List::inflection}, {"ending", text, true},
    {"after", text, false, List::inflection_after}, {"replace", text, true}};
constexpr Key exception_keys[] = {{"form", text, true}, {"plural", texts}, {"adjective", texts}};
constexpr Key measure_keys[] = {
    {"id", text, true}, {"kind", text, true, List::quantity_kind}, {"unit", text, true},
    {"pattern", text, true}, {"written", text}, {"factor", number}, {"out_of", number},
    {"least", number}, {"most", number}, {"frame", text, false, List::frame}, {"decoy", boolean},
    {"begins", text},
    {"examples", texts}};
constexpr Key unit_keys[] = {
    {"id", text, true}, {"kind", text, true, List::quantity_kind}, {"name", text, true},
    {"aliases", texts}, {"factor", number, true}, {"offset", number}, {"source", text, true},
    {"replaces", boolean}, {"examples", texts}};
constexpr Key band_keys[] = {
    {"id", text, true}, {"kind", text, true, List::quantity_kind},
    {"rule", text, true, List::band_rule}, {"name", text, true}, {"unit", text, true},
    {"terms", texts}, {"style", texts, false, List::wine_style},
    {"colour", texts, false, List::wine_colour}, {"least", number}, {"above", number},
    {"most", number}, {"below", number}, {"acid_most", number}, {"acid_gap", number},
    {"beyond", texts}, {"undosed", boolean}, {"tolerance", number}, {"remark", boolean},
    {"authority", text}, {"source", text, true}, {"as_of", text, true}, {"replaces", boolean},
    {"examples", texts}};
constexpr Key number_keys[] = {
    {"role", text, true, List::number_role}, {"value", number}, {"forms", fixed_forms, true},
    {"examples", texts}};

constexpr Kind all_kinds[] = {
    {"allowance", allowance_keys}, {"anchor", anchor_keys},         {"band", band_keys},
    {"compound", compound_keys},   {"cue", cue_keys},               {"descriptor", descriptor_keys},
    {"evidence", evidence_keys},   {"exception", exception_keys},   {"family", family_keys},
    {"fault", fault_keys},         {"hue", hue_keys},               {"inflection", inflection_keys},
    {"known", known_keys},         {"level", level_keys},           {"measure", measure_keys},
    {"modifier", modifier_keys},   {"name", name_keys},             {"number", number_keys},
    {"phrase", phrase_keys},
    {"sense", sense_keys},         {"sight", sight_keys},           {"slot", slot_keys},
    {"suspicion", suspicion_keys}, {"tell", tell_keys},
    {"trait", trait_keys},         {"unit", unit_keys}};

}  // namespace

std::span<const std::string_view> members(ClosedList list) {
  switch (list) {
    case List::any: return {};
    case List::dimension: return ids<Dimension, dimension_count>();
    case List::phase: return ids<Phase, 5>();
    case List::stance: return ids<Stance, 3>();
    case List::when: return ids<When, 4>();
    case List::frame: return ids<Frame, 8>();
    case List::state: return ids<State, state_count, true>();
    case List::origin: return ids<Origin, 4, true>();
    case List::hue: return ids<Hue, hue_count>();
    case List::fault: return ids<Fault, fault_count>();
    case List::quantity_kind: return ids<QuantityKind, quantity_kind_count>();
    case List::name_kind: return ids<NameKind, 5>();
    case List::wine_colour: return ids<WineColour, 4>();
    case List::wine_style: return ids<WineStyle, 4>();
    case List::sight_kind: return ids<SightKind, 7>();
    case List::depth: return depth_ids;
    case List::clarity: return clarity_ids;
    case List::shift: return shift_ids;
    case List::role: return role_ids;
    case List::stop: return stop_ids;
    case List::sense_kind: return std::span(sense_ids).first(std::size(sense_ids) - 1);
    case List::sense_choice: return sense_ids;
    case List::known_class: return known_ids;
    case List::tell: return tell_ids;
    case List::inflection: return inflection_ids;
    case List::inflection_after: return after_ids;
    case List::list: return list_ids;
    case List::band_rule: return ids<BandRule, 3>();
    case List::number_role: return number_ids;
    case List::age_cue: return age_cue_ids;
    case List::points_to: return points_to_ids;
    case List::alone: return alone_ids;
  }
  return {};
}

int position(ClosedList list, std::string_view id) {
  const auto all = members(list);
  const auto found = std::find(all.begin(), all.end(), id);
  return found == all.end() ? -1 : static_cast<int>(found - all.begin());
}

std::string_view describe(ValueType type) {
  switch (type) {
    case text: return "a string";
    case texts: case nouns: case adjectives: case fixed_forms: return "a list of strings";
    case steps: return "two steps, [low, high], from 1 to 5";
    case number: return "a number";
    case boolean: return "true or false";
    case sets: return "an inline table";
  }
  return {};
}

std::span<const Kind> kinds() { return all_kinds; }

const Kind* find_kind(std::string_view name) {
  for (const Kind& kind : all_kinds)
    if (kind.name == name) return &kind;
  return nullptr;
}

std::span<const Key> set_keys() { return cue_set_keys; }

}  // namespace racking::lexicon
