// What every step of the build uses: problems, values, references.
#include "lexicon/builder.hpp"

#include <algorithm>

#include "lexicon/fields.hpp"
#include "lexicon/suggest.hpp"
#include "lexicon/variants.hpp"

namespace racking::lexicon {
namespace {

const Texts no_texts;

// Moves what a base's record refers to into the new pool.
struct Repool {
  const CompiledLexicon& base;
  Pool& pool;

  void text(StringRef& ref) { ref = pool.text(base.string(ref)); }
  void list(Range& range, Refers refers) {
    const auto items = base.range(range);
    std::vector<std::uint32_t> moved(items.begin(), items.end());
    if (refers == Refers::strings)
      for (std::size_t i = 0; i + 1 < moved.size(); i += 2) {
        const StringRef ref = pool.text(base.string({moved[i], moved[i + 1]}));
        moved[i] = ref.offset;
        moved[i + 1] = ref.length;
      }
    range = pool.list(moved);
  }
  void value(std::uint32_t, std::size_t) {}
  void word(WordId) {}                   // words keep their ids
  void optional(std::uint8_t, std::size_t) {}
  void bits(std::uint32_t, std::size_t) {}
};

}  // namespace

void Builder::report(const Place& place, std::string message, std::string mend) {
  std::string file = place.file < source_.files.size() ? source_.files[place.file] : std::string();
  problems_.push_back(
      {std::move(file), place.line, place.column, std::move(message), std::move(mend)});
}

std::string Builder::where(const Place& place) const {
  if (place.file >= source_.files.size()) return "in the lexicon below";
  return "at " + source_.files[place.file] + ":" + std::to_string(place.line) + ":" +
         std::to_string(place.column);
}

const Text* Builder::text(const Entry& entry, std::string_view key) {
  const auto found = entry.texts.find(key);
  return found == entry.texts.end() ? nullptr : &found->second;
}

const Texts& Builder::list(const Entry& entry, std::string_view key) {
  const auto found = entry.lists.find(key);
  return found == entry.lists.end() ? no_texts : found->second;
}

std::optional<std::pair<int, int>> Builder::steps(const Entry& entry, std::string_view key) {
  const auto found = entry.ranges.find(key);
  if (found == entry.ranges.end()) return std::nullopt;
  return found->second;
}

std::optional<double> Builder::number(const Entry& entry, std::string_view key) {
  const auto found = entry.numbers.find(key);
  if (found == entry.numbers.end()) return std::nullopt;
  return found->second;
}

bool Builder::flag(const Entry& entry, std::string_view key) {
  return number(entry, key).value_or(0.0) != 0.0;
}

Place Builder::place_of(const Entry& entry, std::string_view key) {
  const auto found = entry.places.find(key);
  return found == entry.places.end() ? entry.place : found->second;
}

std::uint8_t Builder::member(const Entry& entry, std::string_view key, ClosedList closed) {
  const Text* value = text(entry, key);
  const int at = value == nullptr ? -1 : position(closed, value->value);
  return at < 0 ? unset : static_cast<std::uint8_t>(at);
}

std::uint32_t Builder::mask(const Entry& entry, std::string_view key, ClosedList closed) {
  std::uint32_t out = 0;
  for (const Text& value : list(entry, key))
    if (const int at = position(closed, value.value); at >= 0) out |= 1u << at;
  return out;
}

std::vector<std::uint32_t> Builder::resolve(const Texts& names, const Ids& ids,
                                            std::string_view what) {
  std::vector<std::uint32_t> out;
  for (const Text& name : names) {
    const auto found = ids.find(name.value);
    if (found != ids.end()) {
      out.push_back(found->second);
      continue;
    }
    std::vector<std::string_view> known;
    for (const auto& [id, index] : ids)
      if (!is_alternatives(id)) known.push_back(id);
    std::sort(known.begin(), known.end());
    report(name.place, "unknown " + std::string(what) + " '" + name.value + "'",
           suggestion(name.value, known, "declare it in a [[" + std::string(what) + "]]"));
  }
  return out;
}

std::uint32_t Builder::trait(std::string_view id) {
  const auto [found, fresh] =
      trait_ids_.emplace(std::string(id), static_cast<std::uint32_t>(tables_.traits.size()));
  if (fresh) tables_.traits.push_back({pool_.text(id)});
  return found->second;
}

std::vector<std::uint32_t> Builder::traits_of(const Entry& entry) {
  std::vector<std::uint32_t> out;
  const auto add = [&](const Text& id) {
    check_id(id);
    const std::uint32_t index = trait(id.value);
    if (std::find(out.begin(), out.end(), index) == out.end()) out.push_back(index);
  };
  if (const Text* one = text(entry, "trait")) add(*one);
  for (const Text& id : list(entry, "traits")) add(id);
  return out;
}

void Builder::check_id(const Text& id) {
  const auto allowed = [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-' || c == '.' || c == '_';
  };
  if (id.value.empty() || !std::all_of(id.value.begin(), id.value.end(), allowed))
    report(id.place, "'" + id.value + "' is no id", "write ids in lower case with hyphens");
}

bool Builder::declare_id(const Entry& entry, Ids& ids, std::uint32_t index,
                         std::string_view what) {
  const Text* id = text(entry, "id");
  if (id == nullptr) return false;
  check_id(*id);
  if (ids.emplace(id->value, index).second) {
    declared_.emplace(std::string(what) + ' ' + id->value, id->place);
    return true;
  }
  const auto first = declared_.find(std::string(what) + ' ' + id->value);
  report(id->place,
         "the " + std::string(what) + " '" + id->value + "' is declared already, " +
             where(first == declared_.end() ? Place{no_file, 0, 0} : first->second),
         what == "descriptor" ? "choose another id, or add extends = true to add forms to it"
                              : "choose another id");
  return false;
}

// The words keep their ids, so that sense rules need no change.
void Builder::take_base_words() {
  std::vector<std::string> words(base_->words.size());
  for (const Word& word : base_->words)
    if (word.id != 0 && word.is_alias == 0) words[word.id] = base_->string(word.key);
  for (std::size_t id = 1; id < words.size() && !words[id].empty(); ++id)
    if (words_.add(words[id]) != id)
      throw Error(ErrorCode::lexicon_corrupt, "the compiled lexicon has a word twice");
}

void Builder::take_base() {
  if (base_ == nullptr) return;
  Repool repool{*base_, pool_};
#define X(table)                                                    \
  tables_.table.assign(base_->table.begin(), base_->table.end());   \
  for (auto& record : tables_.table) visit(record, repool);
  RACKING_LEXICON_RECORDS(X)
#undef X
  take_base_words();
  const auto index = [](const auto& records, auto&& name, Ids& ids) {
    for (std::uint32_t i = 0; i < records.size(); ++i)
      ids.emplace(std::string(name(records[i])), i);
  };
  const auto by_id = [&](const auto& record) { return base_->string(record.id); };
  index(base_->descriptors, by_id, descriptor_ids_);
  index(base_->compounds, by_id, compound_ids_);
  index(base_->traits, by_id, trait_ids_);
  index(base_->cues, by_id, cue_ids_);
  index(base_->sense_rules, by_id, rule_ids_);
  index(base_->measures, by_id, measure_ids_);
  index(base_->units, by_id, unit_ids_);
  index(base_->bands, by_id, band_ids_);
  index(base_->evidence, by_id, evidence_ids_);
  take_slots();
  for (std::uint32_t i = 0; i < base_->faults.size(); ++i)
    fault_ids_.emplace(base_->faults[i].fault, i);
  for (std::uint32_t i = 0; i < base_->names.size(); ++i)
    name_ids_.emplace(std::vector{std::to_string(base_->names[i].kind),
                                  std::string(base_->string(base_->names[i].name))}, i);
  for (std::uint32_t i = 0; i < base_->sights.size(); ++i) {
    const SightRecord& sight = base_->sights[i];
    sight_ids_.emplace(std::vector{std::to_string(sight.kind), std::string(base_->string(sight.value)),
                                   std::to_string(sight.low), std::to_string(sight.high)}, i);
  }
  const auto items = [&](Range range) {
    const auto list = base_->range(range);
    return std::vector<std::uint32_t>(list.begin(), list.end());
  };
  for (const DescriptorRecord& descriptor : base_->descriptors) {
    parents_.push_back(items(descriptor.parents));
    compounds_.push_back(items(descriptor.compounds));
    parents_places_.push_back({no_file, 0, 0});
  }
}

}  // namespace racking::lexicon
