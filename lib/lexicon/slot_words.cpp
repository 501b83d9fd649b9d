// Builds the slots: words that stand in one place of a form for any of several.
#include <algorithm>
#include <unordered_map>

#include "lexicon/builder.hpp"
#include "lexicon/fields.hpp"
#include "lexicon/suggest.hpp"
#include "lexicon/variants.hpp"

namespace racking::lexicon {
namespace {

void sort_once(std::vector<std::uint32_t>& items) {
  std::sort(items.begin(), items.end());
  items.erase(std::unique(items.begin(), items.end()), items.end());
}

bool is_slot_id(std::string_view id) {
  return !id.empty() && std::all_of(id.begin(), id.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-';
  });
}

}  // namespace

void Builder::take_slots() {
  for (const SlotRecord& record : base_->slots) {
    const auto items = [&](Range range) {
      const auto list = base_->range(range);
      return std::vector<std::uint32_t>(list.begin(), list.end());
    };
    slot_ids_.emplace(std::string(base_->string(record.id)), static_cast<std::uint32_t>(slots_.size()));
    slots_.push_back({std::string(base_->string(record.id)), {no_file, 0, 0}, record.word, record.names,
                      items(record.own), items(record.includes), {}, false});
  }
}

// Slots before all forms: of two that have a word, the one declared first has it.
void Builder::declare_slots() {
  // What is written in place is nearer than what a slot's name stands for.
  for (const Entry& entry : source_.entries)
    for (const Form& form : entry.forms)
      if (form.text.find(alternatives_mark) != std::string::npos) declare_alternatives(form);
  for (const Entry& entry : source_.entries)
    if (entry.kind == "slot") declare_slot(entry);
  for (const Entry& entry : source_.entries)
    if (entry.kind == "slot") fill_slot(entry);
}

void Builder::declare_slot(const Entry& entry) {
  const Text* id = text(entry, "id");
  if (id == nullptr || flag(entry, "extends")) return;
  if (!is_slot_id(id->value)) {
    report(id->place, "'" + id->value + "' is no id of a slot",
           "write it in lower-case letters with hyphens");
    return;
  }
  const auto [found, fresh] = slot_ids_.emplace(id->value, static_cast<std::uint32_t>(slots_.size()));
  if (fresh) {
    slots_.push_back({id->value, id->place, words_.add(slot_word(id->value)), 0, {}, {}, {}, false});
  } else if (Slot& slot = slots_[found->second]; slot.place.file != no_file) {
    report(id->place, "the slot '" + id->value + "' is declared already, " + where(slot.place),
           "choose another id, or add extends = true to add words to it");
  } else {
    slot.place = id->place;   // it adds to the slot below
  }
}

void Builder::declare_alternatives(const Form& form) {
  for (const Words& words : variants_of(form.text, scratch_).all)
    for (const std::string& word : words) {
      const std::string id = is_slot_word(word) ? word.substr(1, word.size() - 2) : std::string();
      if (!is_alternatives(id) || slot_ids_.contains(id)) continue;
      slot_ids_.emplace(id, static_cast<std::uint32_t>(slots_.size()));
      Slot slot{id, form.place, words_.add(word), 0, {}, {}, {}, false};
      for (const std::string& one : words_of_alternatives(id)) slot.own.push_back(words_.add(one));
      slots_.push_back(std::move(slot));
    }
}

void Builder::fill_slot(const Entry& entry) {
  const Text* id = text(entry, "id");
  if (id == nullptr) return;
  if (!flag(entry, "extends") && !slot_ids_.contains(id->value)) return;   // told already
  const auto found = resolve({*id}, slot_ids_, "slot");
  if (found.empty()) return;
  Slot& slot = slots_[found.front()];
  const std::size_t told = problems_.size();
  for (const Text& word : list(entry, "words")) {
    const Sequence sequence = sequence_of(word.value, scratch_);
    if (sequence.words.size() == 1 && sequence.ends_in_word)
      slot.own.push_back(words_.add(sequence.words.front()));
    else
      report(word.place, "'" + word.value + "' is not one word",
             "a slot has single words; write others into the form: {this|that one}");
  }
  slot.names = static_cast<std::uint8_t>(slot.names | mask(entry, "names", ClosedList::name_kind));
  for (const Text& other : list(entry, "slots"))
    for (const std::uint32_t index : resolve({other}, slot_ids_, "slot"))
      include_slot(found.front(), index, other);
  slot.faulty = slot.faulty || problems_.size() > told;
}

void Builder::include_slot(std::uint32_t into, std::uint32_t other, const Text& named) {
  std::vector<bool> seen(slots_.size(), false);
  std::vector<std::uint32_t> ahead{other};
  while (!ahead.empty()) {
    const std::uint32_t at = ahead.back();
    ahead.pop_back();
    if (at == into) {
      report(named.place,
             "the slot '" + slots_[into].id + "' is itself in the slot '" + slots_[other].id + "'",
             "leave one of the two out");
      return;
    }
    if (seen[at]) continue;
    seen[at] = true;
    ahead.insert(ahead.end(), slots_[at].includes.begin(), slots_[at].includes.end());
  }
  slots_[into].includes.push_back(other);
}

void Builder::settle_slots() {
  if (slots_.empty()) return;
  std::vector<std::uint32_t> by_kind[name_kind_count];   // last words of names
  for (NodeId node = 1; node < trie_.nodes().size(); ++node)
    for (const Claim& claim : trie_.nodes()[node].claims)
      if (claim.sense.kind == SenseKind::name && !is_slot_word(words_.text(trie_.nodes()[node].word)))
        by_kind[tables_.names[claim.sense.index].kind].push_back(trie_.nodes()[node].word);
  for (auto& words : by_kind) sort_once(words);
  for (Slot& slot : slots_) {
    std::vector<bool> seen(slots_.size(), false);
    std::vector<std::uint32_t> ahead{static_cast<std::uint32_t>(&slot - slots_.data())};
    while (!ahead.empty()) {
      const std::uint32_t index = ahead.back();
      ahead.pop_back();
      if (seen[index]) continue;
      seen[index] = true;
      const Slot& part = slots_[index];
      slot.words.insert(slot.words.end(), part.own.begin(), part.own.end());
      for (std::size_t kind = 0; kind < name_kind_count; ++kind)
        if ((part.names >> kind & 1u) != 0)
          slot.words.insert(slot.words.end(), by_kind[kind].begin(), by_kind[kind].end());
      ahead.insert(ahead.end(), part.includes.begin(), part.includes.end());
    }
    sort_once(slot.words);
    if (slot.words.empty() && !slot.faulty)
      report(slot.place, "the slot '" + slot.id + "' has no word",
             "give it words, names or slots");
  }
  spread_slots();
}

// A form with alternatives is one of each of their words: where another entry has written one of
// these out, it is of both.
void Builder::spread_alternatives() {
  const auto count = static_cast<NodeId>(trie_.nodes().size());
  std::vector<std::uint32_t> begin(count + 1, 0);   // of each node's children
  for (NodeId node = 1; node < count; ++node) ++begin[trie_.nodes()[node].from + 1];
  for (NodeId node = 0; node < count; ++node) begin[node + 1] += begin[node];
  std::vector<NodeId> children(count);
  std::vector<std::uint32_t> next = begin;
  for (NodeId node = 1; node < count; ++node) children[next[trie_.nodes()[node].from]++] = node;
  std::unordered_map<WordId, const Slot*> alternatives;
  for (const Slot& slot : slots_)
    if (is_alternatives(slot.id)) alternatives.emplace(slot.word, &slot);
  // Nodes that words lead to, and that words or alternatives with those words lead to.
  std::vector<std::pair<NodeId, NodeId>> ahead{{0, 0}};
  const auto meet = [&](NodeId plain, NodeId other) {
    if (plain == 0) return;
    ahead.emplace_back(plain, other);
    if (plain == other || trie_.nodes()[plain].claims.empty()) return;
    const std::vector<Claim> claims(trie_.nodes()[other].claims.begin(), trie_.nodes()[other].claims.end());
    for (const Claim& one : claims) claim(plain, one);
  };
  while (!ahead.empty()) {
    const auto [plain, other] = ahead.back();
    ahead.pop_back();
    for (std::uint32_t i = begin[other]; i < begin[other + 1]; ++i) {
      const NodeId its = children[i];
      const WordId word = trie_.nodes()[its].word;
      meet(plain == other ? its : trie_.child(plain, word), its);
      const auto slot = alternatives.find(word);
      if (slot == alternatives.end()) continue;
      for (const WordId one : slot->second->words) meet(trie_.child(plain, one), its);
    }
  }
}

// A form that is one slot and no more is the same as one of each word: context asks of a single
// word what it is without looking for mentions.
void Builder::spread_slots() {
  for (const Slot& slot : slots_) {
    const NodeId node = trie_.find({slot.word});
    if (node == 0) continue;
    const std::vector<Claim> claims(trie_.nodes()[node].claims.begin(),
                                    trie_.nodes()[node].claims.end());
    if (claims.empty()) continue;
    for (const WordId word : slot.words) {
      const NodeId own = trie_.insert({word});
      for (const Claim& one : claims) claim(own, one);
    }
  }
}

void Builder::emit_slots() {
  tables_.slots.clear();   // those of the base are among ours
  for (Slot& slot : slots_) {
    for (std::size_t i = slot.words.size(); i-- > 0;)   // "creme" stands where "crème" may
      slot.words.push_back(words_.stripped(slot.words[i]));
    sort_once(slot.own), sort_once(slot.includes), sort_once(slot.words);
    tables_.slots.push_back({pool_.text(slot.id), pool_.list(slot.own), pool_.list(slot.includes),
                             pool_.list(slot.words), slot.word, slot.names, {}});
  }
}

// The words of a form, in each way that it may be said; none, and a problem, if it is no good.
std::vector<Words> Builder::words_of(const Form& form, SenseKind kind) {
  if (!has_slots(form.text)) {
    Sequence sequence = sequence_of(form.text, scratch_);
    if (!sequence.words.empty()) return {std::move(sequence.words)};
    report(form.place, "the form is empty", "write a word, or leave it out");
    return {};
  }
  if ((slotted_kinds & kind_bit(kind)) == 0) {
    report_slots(form);
    return {};
  }
  Variants variants = variants_of(form.text, scratch_);
  if (!variants.wrong.empty()) report(form.place, variants.wrong, variants.mend);
  for (const Words& words : variants.all)
    for (const std::string& word : words) {
      if (!is_slot_word(word) || word == any_word) continue;
      const std::string id = word.substr(1, word.size() - 2);
      if (slot_ids_.contains(id)) continue;
      resolve({{id, form.place}}, slot_ids_, "slot");   // says so, and which may be meant
      return {};
    }
  return std::move(variants.all);
}

void Builder::report_slots(const Form& form) {
  report(form.place, "the form '" + form.text + "' has a slot, and slots are for cues",
         "write it out here; cues, known words, hints and companions may have slots");
}

}  // namespace racking::lexicon
