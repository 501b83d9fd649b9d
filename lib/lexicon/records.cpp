// Builds the records of every kind but descriptors.
#include <algorithm>
#include <bit>
#include <cmath>
#include <limits>

#include "lexicon/builder.hpp"
#include "lexicon/suggest.hpp"

namespace racking::lexicon {
namespace {

std::uint8_t byte(int value) { return static_cast<std::uint8_t>(value); }

bool names_a_number(std::string_view pattern) {
  for (const std::string_view group : {"(?P<value>", "(?P<low>", "(?P<sum_1>", "(?P<over>"})
    if (pattern.find(group) != std::string_view::npos) return true;
  return false;
}

template <class Record>
std::uint32_t append(std::vector<Record>& table, const Record& record) {
  table.push_back(record);
  return static_cast<std::uint32_t>(table.size() - 1);
}

}  // namespace

void Builder::declare_compound(const Entry& entry) {
  const auto index = static_cast<std::uint32_t>(tables_.compounds.size());
  if (!declare_id(entry, compound_ids_, index, "compound")) return;
  tables_.compounds.push_back({pooled(entry, "id"), pooled(entry, "label"), pooled(entry, "source")});
}

void Builder::declare_fault(const Entry& entry) {
  const std::uint8_t fault = member(entry, "id", ClosedList::fault);
  const auto index = static_cast<std::uint32_t>(tables_.faults.size());
  if (fault == unset || !fault_ids_.emplace(fault, index).second) return;
  FaultRecord record{};
  record.fault = fault;
  tables_.faults.push_back(record);
}

void Builder::fill_records() {
  if (base_ == nullptr) {   // these tables are the closed lists themselves
    for (std::size_t i = 0; i < dimension_count; ++i)
      tables_.anchors.push_back({static_cast<std::uint8_t>(i)});
    for (std::uint8_t i = 0; i < 4; ++i) tables_.modifiers.push_back({i});
    for (std::size_t i = 0; i < hue_count; ++i) tables_.hues.push_back({static_cast<std::uint8_t>(i)});
    tables_.knowns = {{0, unset, unset, 0}, {1, unset, unset, 0}};
  }
  declare_measures();
  // A user's own rules are tried before those of the lexicon below.
  std::vector<SenseRuleRecord> below;
  below.swap(tables_.sense_rules);
  for (std::size_t i = 0; i < source_.entries.size(); ++i) {
    const std::uint32_t index = fill_record(source_.entries[i]);
    if (index != none) index_of_entry_[i] = index;
  }
  // These speak of traits and names, wherever they stand.
  for (std::size_t i = 0; i < source_.entries.size(); ++i) {
    const Entry& entry = source_.entries[i];
    if (entry.kind == "evidence") add_evidence(entry);
    if (entry.kind == "allowance" && index_of_entry_[i] != none)
      fill_allowance(entry, tables_.suspicions[index_of_entry_[i]]);
  }
  tables_.sense_rules.insert(tables_.sense_rules.end(), below.begin(), below.end());
}

std::uint32_t Builder::fill_record(const Entry& entry) {
  const std::string& kind = entry.kind;
  const auto in_list = [&](std::string_view key, ClosedList closed) {
    const std::uint8_t at = member(entry, key, closed);
    return at == unset ? none : std::uint32_t{at};
  };
  if (kind == "anchor") return in_list("dimension", ClosedList::dimension);
  if (kind == "modifier") return in_list("shift", ClosedList::shift);
  if (kind == "hue") return in_list("id", ClosedList::hue);
  if (kind == "known") {
    const std::uint32_t known = in_list("class", ClosedList::known_class);
    const KnownRecord record{static_cast<std::uint8_t>(known & 1u),
                             member(entry, "colour", ClosedList::wine_colour),
                             member(entry, "style", ClosedList::wine_style), 0};
    if (known == none || (record.colour == unset && record.style == unset)) return known;
    return append(tables_.knowns, record);
  }
  if (kind == "trait") return text(entry, "id") == nullptr ? none : trait(text(entry, "id")->value);
  if (kind == "phrase") return add_phrase(entry);
  if (kind == "level") return add_level(entry);
  if (kind == "sight") return add_sight(entry);
  if (kind == "fault") return add_fault(entry);
  if (kind == "suspicion" || kind == "allowance") return add_suspicion(entry);
  if (kind == "name") return add_name(entry);
  if (kind == "cue") return add_cue(entry);
  if (kind == "tell") add_tell(entry);
  if (kind == "measure") add_measure(entry);
  if (kind == "number") add_number(entry);
  if (kind == "sense") add_sense_rule(entry);
  return none;
}

// The bits of what a word speaks of; a weight, where it has one.
std::uint32_t Builder::tell_bit(const Entry& entry, std::uint8_t of) {
  constexpr auto first = static_cast<unsigned>(std::countr_zero(bit(Tell::ordinal))) + 1;
  constexpr unsigned tasted = first + weighed_frames, amount = tasted + 1, topics = amount + 1;
  constexpr unsigned portion = topics + static_cast<unsigned>(Topic::portion), wine = first - 3;
  const bool of_clause = of >= first && of < tasted;
  const bool of_whole = of == wine || (of >= topics && of < portion);
  const auto given = number(entry, "weight");
  const double weight = given.value_or(1);
  if (given && !of_clause && !of_whole && of != tasted)
    report(place_of(entry, "weight"), "only wine, topics and what a clause may speak of have a weight",
           "remove 'weight'");
  if (weight != 1 && weight != 2 && weight != 3)
    report(place_of(entry, "weight"), "'weight' must be 1, 2 or 3", "leave it out for 1");
  const auto heavy = static_cast<std::uint32_t>(weight);
  const std::uint32_t whole = of_whole ? heavy << whole_weight_shift : 0;
  if (of < first) return 1u << of | whole;
  if (of_clause) return heavy << (weight_shift + 2 * (of - first));
  if (of == tasted) return given && *given == 1 ? perhaps_tasted_tell : tasted_tell;
  if (of == amount) return bit(Tell::amount);
  return (of - topics + 1) << topic_shift | whole;
}

void Builder::add_tell(const Entry& entry) {
  const std::uint8_t of = member(entry, "of", ClosedList::tell);
  if (of == unset) return;
  constexpr std::uint8_t languages = 5;
  const bool shared = flag(entry, "shared");
  if (shared && of >= languages)
    report(place_of(entry, "shared"), "only a language shares words", "remove 'shared'");
  const std::uint32_t bit = shared && of < languages ? 1u << (of + shared_shift) : tell_bit(entry, of);
  for (const Text& word : list(entry, "words")) {
    const Sequence sequence = sequence_of(word.value, scratch_);
    if (sequence.words.size() != 1) {
      report(word.place, "'" + word.value + "' is not one word", "give single words");
      continue;
    }
    words_.add(sequence.words.front());
    tables_.tells.push_back({pool_.text(sequence.words.front()), bit});
  }
}

std::uint32_t Builder::add_phrase(const Entry& entry) {
  PhraseRecord record{};
  record.dimension = member(entry, "dimension", ClosedList::dimension);
  const auto traits = traits_of(entry);
  record.traits = pool_.list(traits);
  if (const auto range = steps(entry, "range")) {
    record.low = byte(range->first);
    record.high = byte(range->second);
    if (!entry.places.contains("dimension"))
      report(place_of(entry, "range"), "a range without a dimension", "add dimension = \"…\"");
  } else if (traits.empty() && !entry.places.contains("range")) {
    report(entry.place, "the phrase says nothing: it has neither range nor trait",
           "add range = [low, high] and its dimension, or traits = [\"…\"]");
  }
  return append(tables_.phrases, record);
}

std::uint32_t Builder::add_level(const Entry& entry) {
  LevelRecord record{};
  const auto traits = traits_of(entry);
  record.traits = pool_.list(traits);
  record.alone = member(entry, "alone", ClosedList::dimension);
  record.fragment = member(entry, "fragment", ClosedList::dimension);
  const auto dimensions = members(ClosedList::dimension);
  for (std::size_t i = 0; i < dimensions.size(); ++i)
    if (const auto range = steps(entry, dimensions[i])) {
      record.low[i] = byte(range->first);
      record.high[i] = byte(range->second);
    }
  if (record.alone != unset && !entry.places.contains(dimensions[record.alone]))
    report(place_of(entry, "alone"), "'alone' names a dimension that the level has no step for",
           "add " + std::string(dimensions[record.alone]) + " = [low, high]");
  const bool any = std::any_of(dimensions.begin(), dimensions.end(),
                               [&](auto name) { return entry.places.contains(name); });
  if (!any && traits.empty())
    report(entry.place, "the level says nothing: it has no step for any dimension",
           "add one, as in tannin = [4, 4]");
  return append(tables_.levels, record);
}

std::uint32_t Builder::add_sight(const Entry& entry) {
  SightRecord record{};
  record.kind = member(entry, "kind", ClosedList::sight_kind);
  if (record.kind == unset) return none;
  const Text* value = text(entry, "value");
  const auto range = steps(entry, "range");
  const bool is_depth = record.kind == static_cast<std::uint8_t>(SightKind::depth);
  if (range && !is_depth)
    report(place_of(entry, "range"), "only depth has a range", "remove it");
  if (value == nullptr && !(is_depth && range))
    report(entry.place, "[[sight]] has no 'value'", "add value = \"…\"");
  if (value != nullptr) record.value = pool_.text(value->value);
  const bool is_clarity = record.kind == static_cast<std::uint8_t>(SightKind::clarity);
  if (value != nullptr && (is_depth || is_clarity)) {
    const ClosedList closed = is_depth ? ClosedList::depth : ClosedList::clarity;
    const int at = position(closed, value->value);
    if (at < 0) {
      std::string all;
      for (const auto id : members(closed)) (all += all.empty() ? "" : ", ") += id;
      report(value->place, "'" + value->value + "' is no value of " +
             std::string(is_depth ? "depth" : "clarity"), "one of: " + all);
    } else if (is_depth) {
      record.low = record.high = byte(at + 1);
    }
  }
  if (is_depth && range) {
    record.low = byte(range->first);
    record.high = byte(range->second);
    if (value == nullptr && record.low == record.high)
      record.value = pool_.text(members(ClosedList::depth)[record.low - 1u]);
  }
  const std::vector<std::string> same{std::to_string(record.kind),
                                      std::string(pool_.view(record.value)),
                                      std::to_string(record.low), std::to_string(record.high)};
  const auto [found, fresh] =
      sight_ids_.emplace(same, static_cast<std::uint32_t>(tables_.sights.size()));
  if (fresh) tables_.sights.push_back(record);
  return found->second;
}

std::uint32_t Builder::add_fault(const Entry& entry) {
  const auto found = fault_ids_.find(member(entry, "id", ClosedList::fault));
  if (found == fault_ids_.end()) return none;
  const auto added = resolve(list(entry, "compounds"), compound_ids_, "compound");
  FaultRecord& record = tables_.faults[found->second];
  const auto merge = [&](Range& range, const std::vector<std::uint32_t>& more) {
    const auto before = pool_.view(range);
    std::vector<std::uint32_t> all(before.begin(), before.end());
    for (const std::uint32_t one : more)
      if (std::find(all.begin(), all.end(), one) == all.end()) all.push_back(one);
    range = pool_.list(all);
  };
  merge(record.compounds, added);
  std::vector<std::uint32_t> confused;
  for (const Text& other : list(entry, "confused_with"))
    if (const int at = position(ClosedList::fault, other.value); at >= 0)
      confused.push_back(static_cast<std::uint32_t>(at));
  merge(record.confused_with, confused);
  if (const Text* caution = text(entry, "caution")) {
    if (record.caution.length != 0 && pool_.view(record.caution) != caution->value)
      report(caution->place, "the fault has a caution already", "keep one of them");
    record.caution = pool_.text(caution->value);
  }
  return found->second;
}

std::uint32_t Builder::add_suspicion(const Entry& entry) {
  SuspicionRecord record{};
  record.any = pool_.list(resolve(list(entry, "any"), descriptor_ids_, "descriptor"));
  record.with = pool_.list(resolve(list(entry, "with"), descriptor_ids_, "descriptor"));
  record.fault = member(entry, "fault", ClosedList::fault);
  record.has_companions = !entry.forms.empty();
  record.flags = byte((entry.kind == "allowance" ? SuspicionRecord::allowance : 0) |
                      (flag(entry, "welcome") ? SuspicionRecord::welcome : 0) |
                      (flag(entry, "exact") ? SuspicionRecord::exact : 0));
  if (record.fault == unset) return none;
  if (const Text* remark = text(entry, "remark")) record.remark = pool_.text(remark->value);
  if (list(entry, "any").empty() && entry.places.contains("any"))
    report(place_of(entry, "any"), "'any' names no descriptor", "name one or more");
  return append(tables_.suspicions, record);
}

// Names, and traits if they may stand for a style too.
Range Builder::names_of(const Texts& names, bool or_traits) {
  std::vector<std::uint32_t> refs;
  for (const Text& name : names) {
    const bool known = (or_traits && trait_ids_.contains(name.value)) || std::any_of(name_ids_.begin(), name_ids_.end(), [&](const auto& one) {
      return one.first.back() == name.value;
    });
    if (!known)
      report(name.place, "unknown name '" + name.value + "'",
             "write it as the 'name' of its [[name]] has it");
    const StringRef ref = pool_.text(name.value);
    refs.insert(refs.end(), {ref.offset, ref.length});
  }
  return pool_.list(refs);
}

void Builder::fill_allowance(const Entry& entry, SuspicionRecord& record) {
  record.traits = pool_.list(resolve(list(entry, "traits"), trait_ids_, "trait"));
  record.names = names_of(list(entry, "names"), false);
  if (entry.forms.empty() && record.traits.count == 0 && record.names.count == 0)
    report(entry.place, "the allowance says nothing", "add forms, traits or names");
}

void Builder::check_evidence_value(const Text& value, AgeCue cue) {
  const auto hold_to = [&](ClosedList closed, std::string_view what) {
    if (position(closed, value.value) < 0)
      report(value.place, "'" + value.value + "' is no " + std::string(what),
             suggestion(value.value, members(closed), "see the closed lists"));
  };
  switch (cue) {
    case AgeCue::core: case AgeCue::rim: return hold_to(ClosedList::hue, "hue");
    case AgeCue::aroma: return hold_to(ClosedList::origin, "origin");
    case AgeCue::fruit: return hold_to(ClosedList::state, "state");
    case AgeCue::words:
      resolve({value}, trait_ids_, "trait");
      return;
    case AgeCue::deposit: case AgeCue::rim_width: {
      const auto kind = static_cast<std::uint8_t>(cue == AgeCue::deposit ? SightKind::deposit
                                                                         : SightKind::rim);
      if (std::none_of(tables_.sights.begin(), tables_.sights.end(), [&](const SightRecord& one) {
            return one.kind == kind && pool_.view(one.value) == value.value;
          }))
        report(value.place, "no [[sight]] of that kind has the value '" + value.value + "'",
               "add one, or mend the value");
      return;
    }
    case AgeCue::gradation: case AgeCue::depth: case AgeCue::tannin: case AgeCue::age:
      report(value.place, "such evidence has no values", "remove them");
  }
}

// An id that is there already, in the lexicon below or before, is weighed anew.
void Builder::add_evidence(const Entry& entry) {
  EvidenceRecord record{};
  const Text *id = text(entry, "id"), *because = text(entry, "because");
  record.cue = member(entry, "cue", ClosedList::age_cue);
  record.points_to = member(entry, "points_to", ClosedList::points_to);
  if (id == nullptr || because == nullptr || record.cue == unset || record.points_to == unset) return;
  check_id(*id);
  record.id = pool_.text(id->value);
  record.because = pool_.text(because->value);
  std::vector<std::uint32_t> values;
  for (const Text& value : list(entry, "values")) {
    check_evidence_value(value, static_cast<AgeCue>(record.cue));
    const StringRef ref = pool_.text(value.value);
    values.insert(values.end(), {ref.offset, ref.length});
  }
  record.values = pool_.list(values);
  record.unless = names_of(list(entry, "unless"), true);
  const auto whole = [&](std::string_view key, double factor, double most, double otherwise) {
    const double value = number(entry, key).value_or(otherwise) * factor;
    if (!(value >= 0.0 && value <= most) || std::abs(value - std::round(value)) > 1e-6) {
      report(place_of(entry, key), "'" + std::string(key) + "' is out of its range",
             key == "weight" ? "write a whole number, 0 to 9" : "write a positive number, to a tenth");
      return 0;
    }
    return static_cast<int>(std::round(value));
  };
  record.weight = byte(whole("weight", 1.0, 9.0, 1.0));
  record.least = static_cast<std::uint16_t>(whole("least", 10.0, 65535.0, 0.0));
  record.most = static_cast<std::uint16_t>(whole("most", 10.0, 65535.0, 6553.5));
  record.wine = byte(static_cast<int>(mask(entry, "wine", ClosedList::wine_colour)));
  record.supports = flag(entry, "supports");
  record.unless_sweet = flag(entry, "unless_sweet");
  if (const auto range = steps(entry, "range")) {
    record.low = byte(range->first);
    record.high = byte(range->second);
  }
  const auto [found, fresh] =
      evidence_ids_.emplace(id->value, static_cast<std::uint32_t>(tables_.evidence.size()));
  const auto [first, only] = declared_.emplace("evidence " + id->value, id->place);
  if (!only)
    report(id->place, "the evidence '" + id->value + "' is declared already, " +
           where(first->second), "choose another id");
  if (fresh)
    tables_.evidence.push_back(record);
  else
    tables_.evidence[found->second] = record;
}

std::uint32_t Builder::add_name(const Entry& entry) {
  NameRecord record{};
  const Text* name = text(entry, "name");
  record.kind = member(entry, "kind", ClosedList::name_kind);
  if (record.kind == unset || name == nullptr) return none;
  record.name = pool_.text(name->value);
  record.colour = member(entry, "colour", ClosedList::wine_colour);
  record.style = member(entry, "style", ClosedList::wine_style);
  const auto [found, fresh] =
      name_ids_.emplace(std::vector{std::to_string(record.kind), name->value},
                        static_cast<std::uint32_t>(tables_.names.size()));
  if (fresh) {
    tables_.names.push_back(record);
    return found->second;
  }
  NameRecord& first = tables_.names[found->second];   // more forms of a name, in another entry
  const auto agree = [&](std::uint8_t& own, std::uint8_t other, std::string_view key) {
    if (own == unset) own = other;
    if (other != unset && own != other)
      report(place_of(entry, key), "the name '" + name->value + "' has another " + std::string(key) +
             " already", "make them agree");
  };
  agree(first.colour, record.colour, "colour");
  agree(first.style, record.style, "style");
  return found->second;
}

// A whole number from 1 to `most`, which is `what`; 0 if it is not given, or no good.
std::uint8_t Builder::count(const Entry& entry, std::string_view key, int most, std::string_view what,
                            std::string mend) {
  const auto given = number(entry, key);
  if (!given) return 0;
  if (*given >= 1 && *given <= most && *given == static_cast<double>(static_cast<int>(*given)))
    return static_cast<std::uint8_t>(*given);
  report(place_of(entry, key), "'" + std::string(key) + "' must be " + std::string(what) + ", 1 to " +
                                   std::to_string(most), std::move(mend));
  return 0;
}

std::uint32_t Builder::add_cue(const Entry& entry) {
  const auto index = static_cast<std::uint32_t>(tables_.cues.size());
  if (!declare_id(entry, cue_ids_, index, "cue")) return none;
  CueRecord record{};
  record.id = pool_.text(text(entry, "id")->value);
  record.because = because(entry);
  record.role = member(entry, "role", ClosedList::role);
  if (record.role == unset) record.role = 0;   // reported when it was read
  record.stops = static_cast<std::uint16_t>(mask(entry, "stops", ClosedList::stop));
  record.is_stop = static_cast<std::uint16_t>(mask(entry, "is", ClosedList::stop));
  record.list = member(entry, "list", ClosedList::list);
  record.contrasted = byte(flag(entry, "contrasted"));
  record.bare = byte(flag(entry, "bare"));
  record.limit = count(entry, "limit", 250, "a whole number of words", "leave it out for no limit");
  record.least = count(entry, "least", 50, "a whole number", "write the weight that it takes");
  set_cue(entry, record);
  check_cue(entry);
  return append(tables_.cues, record);
}

StringRef Builder::pooled(const Entry& entry, std::string_view key) {
  const Text* found = text(entry, key);
  return found == nullptr ? StringRef{0, 0} : pool_.text(found->value);
}

// Part of a sentence that goes on: no capital of its own, and no full stop.
StringRef Builder::because(const Entry& entry) {
  const Text* found = text(entry, "because");
  if (found == nullptr) return {0, 0};
  if (found->value.empty() || found->value.back() == '.')
    report(found->place, "'because' is part of a sentence",
           "write a few words without a full stop, as in \"denies what follows\"");
  return pool_.text(found->value);
}

void Builder::set_cue(const Entry& entry, CueRecord& cue) {
  cue.state = static_cast<std::uint16_t>(mask(entry, "sets.state", ClosedList::state));
  cue.stance = member(entry, "sets.stance", ClosedList::stance);
  cue.when = member(entry, "sets.when", ClosedList::when);
  cue.frame = member(entry, "sets.frame", ClosedList::frame);
  cue.phase = member(entry, "sets.phase", ClosedList::phase);
  const auto texture = number(entry, "sets.texture");
  cue.texture = texture ? byte(*texture != 0.0) : unset;
  if (const auto strength = steps(entry, "sets.strength")) {
    cue.strength_low = byte(strength->first);
    cue.strength_high = byte(strength->second);
  }
}

void Builder::check_cue(const Entry& entry) {
  const Text* role = text(entry, "role");
  if (role == nullptr) return;
  const bool sets_something = std::any_of(entry.places.begin(), entry.places.end(), [](const auto& one) {
    return one.first.starts_with("sets.");
  });
  const bool quiet = role->value == "stop" || role->value == "decoy";
  if (quiet && sets_something)
    report(place_of(entry, "sets"), "a " + role->value + " sets nothing", "remove 'sets'");
  if (!quiet && !sets_something)
    report(entry.place, "the cue sets nothing", "add sets = {stance = \"denied\"}, or the like");
  const bool weighed = role->value == "weighed";
  if (weighed != entry.places.contains("least"))
    report(entry.place, weighed ? "a weighed cue must say what it takes" : "only a weighed cue has 'least'",
           weighed ? "add least = 3, or the like" : "remove 'least'");
  if (weighed == entry.places.contains("forms"))
    report(entry.place, weighed ? "a weighed cue has no forms: its words are tells" : "[[cue]] has no 'forms'",
           weighed ? "remove 'forms'" : "add forms = a list of strings");
  if (role->value == "stop" && list(entry, "is").empty())
    report(entry.place, "a stop must say what it is", "add is = [\"contrast\"], or the like");
}

void Builder::add_measure(const Entry& entry) {
  const auto index = static_cast<std::uint32_t>(tables_.measures.size());
  if (!declare_id(entry, measure_ids_, index, "measure")) return;
  MeasureRecord record{};
  record.id = pooled(entry, "id");
  record.pattern = pooled(entry, "pattern");
  record.unit = pooled(entry, "unit");
  record.begins = pooled(entry, "begins");
  record.factor = number(entry, "factor").value_or(1.0);
  record.decoy = flag(entry, "decoy");
  record.out_of = number(entry, "out_of").value_or(0.0);
  record.least = number(entry, "least").value_or(std::numeric_limits<double>::lowest());
  record.most = number(entry, "most").value_or(std::numeric_limits<double>::max());
  record.kind = member(entry, "kind", ClosedList::quantity_kind);
  record.frame = member(entry, "frame", ClosedList::frame);
  set_unit(entry, record);
  if (record.least > record.most)
    report(place_of(entry, "least"), "'least' is above 'most'", "exchange them");
  if (const Text* pattern = text(entry, "pattern");
      pattern != nullptr && record.decoy == 0 && !names_a_number(pattern->value))
    report(pattern->place, "the pattern names no group 'value', 'low', 'sum_1' or 'over'",
           "write (?P<value>…) around the number");
  tables_.measures.push_back(record);
}

std::vector<std::uint32_t> Builder::rule_words(const Entry& entry, std::string_view key) {
  std::vector<std::uint32_t> out;
  for (const Text& word : list(entry, key)) {
    const Words words = sequence_of(word.value, scratch_).words;
    if (words.size() == 1)
      out.push_back(words_.add(words.front()));
    else
      report(word.place, "'" + word.value + "' is not one word", "name one word each");
  }
  return out;
}

void Builder::add_sense_rule(const Entry& entry) {
  const auto index = static_cast<std::uint32_t>(tables_.sense_rules.size());
  if (!declare_id(entry, rule_ids_, index, "sense")) return;
  SenseRuleRecord record{};
  record.id = pool_.text(text(entry, "id")->value);
  record.because = because(entry);
  record.next = pool_.list(rule_words(entry, "next"));
  record.previous = pool_.list(rule_words(entry, "previous"));
  record.not_next = pool_.list(rule_words(entry, "not_next"));
  record.not_previous = pool_.list(rule_words(entry, "not_previous"));
  record.among = mask(entry, "among", ClosedList::sense_kind);
  record.next_kinds = mask(entry, "next_kind", ClosedList::sense_kind);
  record.previous_kinds = mask(entry, "previous_kind", ClosedList::sense_kind);
  record.company = mask(entry, "company", ClosedList::sense_kind);
  record.phases = static_cast<std::uint8_t>(mask(entry, "phase", ClosedList::phase));
  const std::uint8_t choice = member(entry, "choose", ClosedList::sense_choice);
  if (choice < sense_kind_count) record.choose = 1u << choice;
  record.choose_index = none;
  record.first = flag(entry, "first");
  if (const auto capital = number(entry, "capital")) record.capital = *capital != 0.0 ? 1 : 2;
  if (const auto alone = member(entry, "alone", ClosedList::alone); alone != unset)
    record.alone = static_cast<std::uint8_t>(alone + 1);
  record.is_named = !entry.forms.empty();
  if (record.among == 0 && entry.forms.empty())
    report(entry.place, "the rule speaks of no form", "add among = [\"…\"] or forms = [\"…\"]");
  if (record.among != 0 && record.choose != 0 && (record.among & record.choose) == 0)
    report(place_of(entry, "choose"), "'choose' is not one of the kinds in 'among'",
           "add it to 'among', or choose another");
  tables_.sense_rules.push_back(record);
  rules_.emplace_back(index, &entry);
}

void Builder::declare_inflections() {
  // Rules of this source are tried first, then those of the lexicon below.
  std::vector<InflectionRecord> below;
  below.swap(tables_.inflections);
  for (const Entry& entry : source_.entries)
    if (entry.kind == "inflection") add_inflection(entry);
  tables_.inflections.insert(tables_.inflections.end(), below.begin(), below.end());
  for (const InflectionRecord& rule : tables_.inflections)
    inflector_.add_rule(static_cast<Inflection>(rule.kind), std::string(pool_.view(rule.ending)),
                        rule.after, std::string(pool_.view(rule.replace)));
  for (const Entry& entry : source_.entries)
    if (entry.kind == "exception") {
      add_exception(entry, "plural", Inflection::plural);
      add_exception(entry, "adjective", Inflection::adjective);
    }
  for (const ExceptionRecord& exception : tables_.exceptions) {
    std::vector<Words> made;
    const auto refs = pool_.view(exception.made);
    for (std::size_t i = 0; i + 1 < refs.size(); i += 2)
      made.push_back(split(pool_.view(StringRef{refs[i], refs[i + 1]})));
    inflector_.add_exception(static_cast<Inflection>(exception.kind),
                             std::string(pool_.view(exception.form)), std::move(made));
  }
}

void Builder::add_inflection(const Entry& entry) {
  const std::uint8_t kind = member(entry, "kind", ClosedList::inflection);
  const Text* ending = text(entry, "ending");
  const Text* replace = text(entry, "replace");
  if (kind == unset || ending == nullptr || replace == nullptr) return;
  const std::uint8_t after = member(entry, "after", ClosedList::inflection_after);
  InflectionRecord record{};
  record.ending = pool_.text(ending->value);
  record.replace = pool_.text(replace->value);
  record.kind = kind;
  record.after = after == unset ? std::uint8_t{0} : static_cast<std::uint8_t>(after + 1);
  tables_.inflections.push_back(record);
}

void Builder::add_exception(const Entry& entry, std::string_view key, Inflection kind) {
  const Text* form = text(entry, "form");
  if (form == nullptr || !entry.lists.contains(key)) return;
  ExceptionRecord record{};
  const std::string words = joined(sequence_of(form->value, scratch_).words);
  if (words.empty()) {
    report(form->place, "the form is empty", "write the word that is inflected");
    return;
  }
  record.form = pool_.text(words);
  record.kind = static_cast<std::uint8_t>(kind);
  std::vector<std::uint32_t> made;
  for (const Text& one : list(entry, key)) {
    const StringRef ref = pool_.text(joined(sequence_of(one.value, scratch_).words));
    if (ref.length == 0) {
      report(one.place, "the form is empty", "leave it out: [] means that there is none");
      continue;
    }
    made.push_back(ref.offset);
    made.push_back(ref.length);
  }
  record.made = pool_.list(made);
  tables_.exceptions.push_back(record);
}

}  // namespace racking::lexicon
