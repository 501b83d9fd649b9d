// Builds units, bands and the words of numbers.
#include <algorithm>
#include <cmath>

#include "lexicon/builder.hpp"

namespace racking::lexicon {
namespace {

constexpr double most_bound = 1e6;       // in the band's unit


}  // namespace

void Builder::declare_measures() {
  for (const Entry& entry : source_.entries)
    if (entry.kind == "unit") declare_unit(entry);
  for (const Entry& entry : source_.entries)
    if (entry.kind == "band") declare_band(entry);
  // Bands refer to one another, so their ids come first.
  for (const Entry& entry : source_.entries) {
    if (entry.kind != "band" || text(entry, "id") == nullptr) continue;
    const auto found = band_ids_.find(text(entry, "id")->value);
    if (found != band_ids_.end()) fill_band(entry, tables_.bands[found->second]);
  }
}

std::uint32_t Builder::declare_or_replace(const Entry& entry, Ids& ids, std::size_t size,
                                          std::string_view what) {
  const Text* id = text(entry, "id");
  if (id == nullptr) return none;
  if (flag(entry, "replaces")) {
    const auto found = ids.find(id->value);
    const bool below = found != ids.end() &&
                       declared_.find(std::string(what) + ' ' + id->value) == declared_.end();
    if (below) return found->second;
    report(id->place, "no " + std::string(what) + " '" + id->value + "' is there to replace",
           "take out 'replaces', or mend the id");
    return none;
  }
  return declare_id(entry, ids, static_cast<std::uint32_t>(size), what)
             ? static_cast<std::uint32_t>(size)
             : none;
}

Range Builder::string_list(const Texts& texts) {
  std::vector<std::uint32_t> out;
  for (const Text& one : texts) {
    if (one.value.empty()) {
      report(one.place, "the word is empty", "leave it out");
      continue;
    }
    const StringRef ref = pool_.text(one.value);
    out.push_back(ref.offset);
    out.push_back(ref.length);
  }
  return pool_.list(out);
}

void Builder::declare_unit(const Entry& entry) {
  const std::uint32_t index = declare_or_replace(entry, unit_ids_, tables_.units.size(), "unit");
  if (index == none) return;
  UnitRecord record{};
  record.id = pooled(entry, "id");
  record.name = pooled(entry, "name");
  record.source = pooled(entry, "source");
  record.aliases = string_list(list(entry, "aliases"));
  record.factor = number(entry, "factor").value_or(1.0);
  record.offset = number(entry, "offset").value_or(0.0);
  const std::uint8_t kind = member(entry, "kind", ClosedList::quantity_kind);
  if (kind == unset) return;
  record.kind = kind;
  if (record.factor <= 0)
    report(place_of(entry, "factor"), "the factor is not above nothing", "value × factor + offset is the value in the quantity's own unit");
  if (index < tables_.units.size()) {
    tables_.units[index] = record;
    return;
  }
  if (const Text* name = text(entry, "name"); name != nullptr && unit_of(kind, name->value) != nullptr)
    report(name->place, "'" + name->value + "' is a unit of the quantity already",
           "choose another name, or add replaces = true to say it anew");
  tables_.units.push_back(record);
}

const UnitRecord* Builder::unit_of(std::uint8_t kind, std::string_view name) const {
  for (const UnitRecord& unit : tables_.units) {
    if (unit.kind != kind) continue;
    if (pool_.view(unit.name) == name) return &unit;
    const auto aliases = pool_.view(unit.aliases);
    for (std::size_t i = 0; i + 1 < aliases.size(); i += 2)
      if (pool_.view(StringRef{aliases[i], aliases[i + 1]}) == name) return &unit;
  }
  return nullptr;
}

// `written` names the unit of the note; the record is in the quantity's own.
void Builder::set_unit(const Entry& entry, MeasureRecord& record) {
  const Text* written = text(entry, "written");
  if (written == nullptr || record.kind == unset) return;
  const UnitRecord* unit = unit_of(record.kind, written->value);
  if (unit == nullptr) {
    report(written->place, "'" + written->value + "' is no unit of the quantity",
           "declare it in a [[unit]]");
    return;
  }
  if (entry.numbers.contains("factor"))
    report(place_of(entry, "factor"), "'written' has a factor already", "keep one of them");
  record.factor = unit->factor;
  record.offset = unit->offset;
}

void Builder::declare_band(const Entry& entry) {
  const std::uint32_t index = declare_or_replace(entry, band_ids_, tables_.bands.size(), "band");
  if (index == tables_.bands.size()) tables_.bands.push_back({});
}

// In thousandths; `no_bound` if the key is absent.
std::int32_t Builder::bound(const Entry& entry, std::string_view key) {
  const auto value = number(entry, key);
  if (!value) return no_bound;
  const double thousandths = *value * 1000.0;
  if (std::abs(*value) > most_bound || std::abs(thousandths - std::round(thousandths)) > 1e-6) {
    report(place_of(entry, key), "'" + std::string(key) + "' is finer than a thousandth, or too large",
           "round it, or choose another unit");
    return no_bound;
  }
  return static_cast<std::int32_t>(std::lround(thousandths));
}

void Builder::fill_band(const Entry& entry, BandRecord& record) {
  record = {};
  record.id = pooled(entry, "id");
  record.name = pooled(entry, "name");
  record.unit = pooled(entry, "unit");
  record.authority = pooled(entry, "authority");
  record.source = pooled(entry, "source");
  record.as_of = pooled(entry, "as_of");
  record.terms = string_list(list(entry, "terms"));
  record.beyond = pool_.list(resolve(list(entry, "beyond"), band_ids_, "band"));
  record.least = bound(entry, "least");
  record.above = bound(entry, "above");
  record.most = bound(entry, "most");
  record.below = bound(entry, "below");
  record.acid_most = bound(entry, "acid_most");
  record.acid_gap = bound(entry, "acid_gap");
  record.tolerance = bound(entry, "tolerance");
  if (record.tolerance == no_bound) record.tolerance = 0;
  const std::uint8_t kind = member(entry, "kind", ClosedList::quantity_kind);
  const std::uint8_t rule = member(entry, "rule", ClosedList::band_rule);
  if (kind == unset || rule == unset) return;
  record.kind = kind;
  record.rule = rule;
  record.styles = static_cast<std::uint8_t>(mask(entry, "style", ClosedList::wine_style));
  record.colours = static_cast<std::uint8_t>(mask(entry, "colour", ClosedList::wine_colour));
  record.undosed = flag(entry, "undosed");
  record.remark = flag(entry, "remark");
  check_band(entry, record);
}

void Builder::check_band(const Entry& entry, const BandRecord& record) {
  const Text* unit = text(entry, "unit");
  if (unit != nullptr && unit_of(record.kind, unit->value) == nullptr)
    report(unit->place, "'" + unit->value + "' is no unit of the quantity", "declare it in a [[unit]]");
  const auto given = [&](std::string_view key) { return entry.places.contains(key); };
  if (!given("least") && !given("above") && !given("most") && !given("below") && !given("beyond"))
    report(entry.place, "the band has no bound", "add least, above, most or below");
  const std::int32_t low = std::max(record.least, record.above);
  const std::int32_t high = record.most != no_bound ? record.most : record.below;
  if (low != no_bound && high != no_bound && low > high)
    report(entry.place, "the band ends before it begins", "exchange its bounds");
  if ((record.acid_most == no_bound) != (record.acid_gap == no_bound))
    report(entry.place, "'acid_most' and 'acid_gap' go together", "add the other");
  if (record.acid_most != no_bound && (record.most == no_bound || record.acid_most < record.most))
    report(place_of(entry, "acid_most"), "'acid_most' widens 'most'", "give 'most' a lower number");
  if (record.tolerance < 0)
    report(place_of(entry, "tolerance"), "the tolerance is below nothing", "write it without the minus");
  const auto term = static_cast<std::uint8_t>(BandRule::term);
  if (record.rule == term && list(entry, "terms").empty())
    report(entry.place, "a term has no words", "add terms = [\"…\"]");
  // A band that is beyond itself would never end.
  const auto self = band_ids_.find(text(entry, "id")->value)->second;
  for (const std::uint32_t other : pool_.view(record.beyond))
    if (other >= self)
      report(place_of(entry, "beyond"), "'beyond' names a band that is not declared before this one",
             "put the band of less first");
}

void Builder::add_number(const Entry& entry) {
  NumberRecord record{};
  record.role = member(entry, "role", ClosedList::number_role);
  if (record.role == unset) return;
  const auto role = static_cast<NumberRole>(record.role);
  const bool counts = role == NumberRole::count || role == NumberRole::part ||
                      role == NumberRole::article || role == NumberRole::hundred;
  const std::int32_t value = bound(entry, "value");
  if (counts == (value == no_bound))
    report(entry.place, counts ? "the number has no 'value'" : "such a word has no 'value'",
           counts ? "add value = 12" : "remove it");
  record.value = value == no_bound ? 0 : value;
  for (const Form& form : entry.forms) {
    const Words words = sequence_of(form.text, scratch_).words;
    if (words.size() != 1) {
      report(form.place, "'" + form.text + "' is not one word", "name one word each");
      continue;
    }
    record.word = words_.add(words.front());
    const bool twice = std::any_of(tables_.numbers.begin(), tables_.numbers.end(),
                                   [&](const NumberRecord& one) { return one.word == record.word; });
    if (twice)
      report(form.place, "'" + form.text + "' is a word of numbers already", "leave it to one of them");
    else
      tables_.numbers.push_back(record);
  }
}

}  // namespace racking::lexicon
