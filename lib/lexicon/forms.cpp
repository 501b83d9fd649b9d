// Gives every form its node, and every node its senses and rules.
#include <algorithm>
#include <bit>

#include "lexicon/builder.hpp"
#include "lexicon/variants.hpp"

namespace racking::lexicon {
namespace {

constexpr std::uint8_t made_by_rule = Sense::inflected | Sense::derived | Sense::stripped;

bool is_explicit(const Claim& claim) { return (claim.sense.flags & made_by_rule) == 0; }
bool is_claiming(const Claim& claim) { return (claiming_kinds & kind_bit(claim.sense.kind)) != 0; }

// The kind of sense that an entry's forms have; hints and companions are seen to apart.
std::optional<SenseKind> sense_kind(const Entry& entry) {
  if (entry.kind == "family") return SenseKind::descriptor;
  if (entry.kind == "suspicion" || entry.kind == "allowance") return SenseKind::companion;
  const int at = position(ClosedList::sense_kind, entry.kind);
  if (at < 0) return std::nullopt;
  return static_cast<SenseKind>(at);
}

bool inflects(const Entry& entry) {
  return entry.kind == "descriptor" || entry.kind == "family" || entry.kind == "anchor";
}

std::uint8_t shorthand_flag(const Entry& entry) {
  return entry.shorthand ? std::uint8_t{Sense::shorthand} : std::uint8_t{0};
}

std::uint32_t kinds_of(const std::pmr::vector<Claim>& claims) {
  std::uint32_t out = 0;
  for (const Claim& claim : claims) out |= kind_bit(claim.sense.kind);
  return out;
}

}  // namespace

std::vector<WordId> Builder::word_ids(const Words& words) {
  std::vector<WordId> out;
  for (const std::string& word : words) out.push_back(words_.add(word));
  return out;
}

std::vector<WordId> Builder::find_words(const Words& words) const {
  std::vector<WordId> out;
  for (const std::string& word : words) out.push_back(words_.find(word));
  return out;
}

// A depth that spans several values has no word of its own.
std::string Builder::sight_name(std::uint32_t index) const {
  const SightRecord& sight = tables_.sights[index];
  if (sight.value.length != 0 || sight.low == 0 || sight.high == 0)
    return std::string(pool_.view(sight.value));
  const auto depths = members(ClosedList::depth);
  return std::string(depths[sight.low - 1u]) + " to " + std::string(depths[sight.high - 1u]);
}

std::string Builder::owner(const Claim& claim) const {
  const std::uint32_t index = claim.sense.index;
  std::string out(members(ClosedList::sense_kind)[static_cast<std::size_t>(claim.sense.kind)]);
  const auto named = [&](std::string_view id) { out += " '" + std::string(id) + "'"; };
  switch (claim.sense.kind) {
    case SenseKind::descriptor: named(pool_.view(tables_.descriptors[index].id)); break;
    case SenseKind::trait: named(pool_.view(tables_.traits[index].id)); break;
    case SenseKind::hue: named(name_of(static_cast<Hue>(tables_.hues[index].hue))); break;
    case SenseKind::sight: named(sight_name(index)); break;
    case SenseKind::fault: case SenseKind::hint:
      named(name_of(static_cast<Fault>(tables_.faults[index].fault))); break;
    case SenseKind::name: named(pool_.view(tables_.names[index].name)); break;
    case SenseKind::cue: named(pool_.view(tables_.cues[index].id)); break;
    default: break;
  }
  return out;
}

void Builder::claim_forms() {
  if (base_ != nullptr) claim_base();
  for (std::size_t i = 0; i < source_.entries.size(); ++i)
    if (index_of_entry_[i] != none) claim_entry(source_.entries[i], index_of_entry_[i]);
}

// Every form of the lexicon below, by a walk of its trie.
void Builder::claim_base() {
  std::vector<NodeId> from(base_->nodes.size(), 0);
  std::vector<WordId> word(base_->nodes.size(), 0);
  for (const Edge& edge : base_->edges)
    if (edge.to != 0) {
      from[edge.to] = edge.from;
      word[edge.to] = edge.word;
    }
  const auto own_rules = static_cast<std::uint32_t>(rules_.size());
  for (NodeId node = 1; node < base_->nodes.size(); ++node) {
    const auto senses = base_->senses_of(node);
    if (senses.empty()) continue;
    std::vector<WordId> words;
    for (NodeId at = node; at != 0; at = from[at]) words.push_back(word[at]);
    std::reverse(words.begin(), words.end());
    const bool outright = std::any_of(senses.begin(), senses.end(), [](const Sense& sense) {
      return (sense.flags & made_by_rule) == 0;
    });
    const NodeId own = outright ? trie_.insert(words) : 0;
    for (const Sense& sense : senses) {
      const Claim made{sense, {no_file, 0, 0}};
      if (is_explicit(made))
        trie_.nodes()[own].claims.push_back(made);
      else
        base_derived_.push_back({words, made});
    }
    if (own == 0) continue;
    for (const std::uint32_t rule : base_->range(base_->nodes[node].rules))
      if (base_->sense_rules[rule].is_named != 0)
        named_rules_[own].push_back(rule + own_rules);
  }
}

void Builder::claim_entry(const Entry& entry, std::uint32_t index) {
  const auto kind = sense_kind(entry);
  if (!kind) return;
  const Texts& hints = list(entry, "hints");
  for (const Form& form : entry.forms) {
    Sense sense{*kind, shorthand_flag(entry), 0, index};
    if (form.kind == Form::Kind::adjective) sense.flags |= Sense::adjective;
    const auto is_here = [&](const Text& hint) {
      return hint.place.line == form.place.line && hint.place.column == form.place.column;
    };
    if (std::any_of(hints.begin(), hints.end(), is_here)) sense.kind = SenseKind::hint;
    for (const Words& words : words_of(form, sense.kind))
      claim(trie_.insert(word_ids(words)), {sense, form.place});
  }
}

void Builder::claim(NodeId node, const Claim& claim) {
  auto& claims = trie_.nodes()[node].claims;
  for (Claim& other : claims) {
    if (other.sense.kind != claim.sense.kind) continue;
    if (other.sense.index == claim.sense.index) return;
    if (claim.sense.kind == SenseKind::known) {   // a function word is never small talk
      other.sense.index = std::min(other.sense.index, claim.sense.index);
      return;
    }
    if (!is_claiming(claim)) continue;
    Words words;
    for (const WordId word : trie_.words_to(node)) words.push_back(words_.text(word));
    report(claim.place,
           "the form '" + joined(words) + "' of " + owner(claim) + " is claimed already by " +
               owner(other) + ' ' + where(other.place),
           "leave it to one of them");
    return;
  }
  claims.push_back(claim);
}

void Builder::inflect_forms() {
  std::vector<Derived> made = std::move(base_derived_);
  for (std::size_t i = 0; i < source_.entries.size(); ++i)
    if (index_of_entry_[i] != none && inflects(source_.entries[i]))
      derive_from(source_.entries[i], index_of_entry_[i], made);
  const auto rank = [](const Derived& one) {   // plurals first: they are the surer
    return (one.claim.sense.flags & Sense::stripped) != 0  ? 2
           : (one.claim.sense.flags & Sense::derived) != 0 ? 1
                                                           : 0;
  };
  std::stable_sort(made.begin(), made.end(),
                   [&](const Derived& a, const Derived& b) { return rank(a) < rank(b); });
  for (const Derived& one : made) claim_derived(one.words, one.claim);
  claim_stripped();
}

void Builder::derive_from(const Entry& entry, std::uint32_t index, std::vector<Derived>& out) {
  const SenseKind kind = *sense_kind(entry);
  const auto flag = [&](std::uint8_t made) {
    return static_cast<std::uint8_t>(made | shorthand_flag(entry));
  };
  for (const Form& form : entry.forms) {
    if (form.kind != Form::Kind::noun) continue;
    const Sequence sequence = sequence_of(form.text, scratch_);
    for (const Words& plural : inflector_.plurals(sequence))
      out.push_back({word_ids(plural), {{kind, flag(Sense::inflected), 0, index}, form.place}});
    if (kind != SenseKind::descriptor) continue;
    for (const Words& adjective : inflector_.adjectives(sequence))
      out.push_back({word_ids(adjective), {{kind, flag(Sense::derived), 0, index}, form.place}});
  }
}

// Yields to whatever is claimed outright, save small talk, and what only goes along with
// a descriptor: cues, hints, companions.
bool Builder::claim_derived(const std::vector<WordId>& words, const Claim& claim) {
  constexpr std::uint32_t beside = kind_bit(SenseKind::cue) | kind_bit(SenseKind::hint) |
                                   kind_bit(SenseKind::companion);
  const auto is_talk = [](const Claim& one) {
    return one.sense.kind == SenseKind::known && one.sense.index == 1;
  };
  if (const NodeId found = trie_.find(words)) {
    auto& claims = trie_.nodes()[found].claims;
    for (const Claim& other : claims)
      if (!is_talk(other) && (beside & kind_bit(other.sense.kind)) == 0) return false;
    claims.erase(std::remove_if(claims.begin(), claims.end(), is_talk), claims.end());
  }
  trie_.nodes()[trie_.insert(words)].claims.push_back(claim);
  return true;
}

// "creme brulee" is found by "crème brûlée" even where "creme" is a word of its own.
void Builder::claim_stripped() {
  words_.settle_aliases();
  std::vector<Derived> made;
  for (NodeId node = 1; node < trie_.nodes().size(); ++node) {
    if (trie_.nodes()[node].claims.empty()) continue;
    bool differs = false;
    for (NodeId at = node; at != 0; at = trie_.nodes()[at].from)
      differs |= words_.stripped(trie_.nodes()[at].word) != trie_.nodes()[at].word;
    if (!differs) continue;
    std::vector<WordId> words = trie_.words_to(node);
    for (WordId& word : words) word = words_.stripped(word);
    for (Claim claim : trie_.nodes()[node].claims) {
      claim.sense.flags |= Sense::stripped;
      made.push_back({words, claim});
    }
  }
  for (std::size_t i = 0; i < made.size();) {   // all the senses of a form, or none
    std::size_t end = i + 1;
    while (end < made.size() && made[end].words == made[i].words) ++end;
    const NodeId found = trie_.find(made[i].words);
    if (claim_derived(made[i].words, made[i].claim)) {
      const NodeId node = found != 0 ? found : trie_.find(made[i].words);
      for (std::size_t j = i + 1; j < end; ++j)
        trie_.nodes()[node].claims.push_back(made[j].claim);
    }
    i = end;
  }
}

void Builder::attach_rules() {
  for (const auto& [rule, entry] : rules_)
    if (!entry->forms.empty()) attach_named(rule, *entry);
  for (auto& [node, rules] : named_rules_) std::sort(rules.begin(), rules.end());
}

void Builder::attach_named(std::uint32_t rule, const Entry& entry) {
  const SenseRuleRecord& record = tables_.sense_rules[rule];
  for (const Form& form : entry.forms) {
    if (has_slots(form.text)) {
      report_slots(form);
      continue;
    }
    const Sequence sequence = sequence_of(form.text, scratch_);
    const NodeId node = sequence.words.empty() ? 0 : trie_.find(find_words(sequence.words));
    const std::uint32_t claimed = node == 0 ? 0 : kinds_of(trie_.nodes()[node].claims);
    if (claimed == 0) {
      report(form.place, "no entry has the form '" + form.text + "'",
             "give it to an entry, or leave it out of the rule");
      continue;
    }
    const std::uint32_t missing = (record.among | record.choose) & ~claimed;
    if (missing != 0) {
      const auto kind = static_cast<std::size_t>(std::countr_zero(missing));
      report(form.place, "the form '" + form.text + "' has no sense of the kind " +
             std::string(members(ClosedList::sense_kind)[kind]),
             "leave it out of the rule, or give it such a sense");
      continue;
    }
    auto& named = named_rules_[node];
    if (std::find(named.begin(), named.end(), rule) == named.end()) named.push_back(rule);
  }
}

std::vector<std::uint32_t> Builder::rules_of(NodeId node) const {
  const auto named = named_rules_.find(node);
  std::vector<std::uint32_t> out = named == named_rules_.end() ? std::vector<std::uint32_t>() : named->second;
  const std::uint32_t claimed = kinds_of(trie_.nodes()[node].claims);
  for (std::uint32_t i = 0; i < tables_.sense_rules.size(); ++i) {
    const SenseRuleRecord& rule = tables_.sense_rules[i];
    if (rule.is_named == 0 && (rule.among & ~claimed) == 0) out.push_back(i);
  }
  return out;
}

void Builder::check_collisions() {
  for (NodeId node = 1; node < trie_.nodes().size(); ++node) {
    const auto& claims = trie_.nodes()[node].claims;
    for (std::size_t i = 0; i < claims.size(); ++i)
      for (std::size_t j = i + 1; j < claims.size(); ++j) check_pair(node, claims[i], claims[j]);
  }
}

void Builder::check_pair(NodeId node, const Claim& a, const Claim& b) {
  if (!is_explicit(a) || !is_explicit(b) || !is_claiming(a) || !is_claiming(b)) return;
  if (a.place.file == no_file && b.place.file == no_file) return;
  const std::uint32_t both = kind_bit(a.sense.kind) | kind_bit(b.sense.kind);
  if (both == (kind_bit(SenseKind::level) | kind_bit(SenseKind::trait))) return;
  for (const std::uint32_t rule : rules_of(node)) {
    const SenseRuleRecord& record = tables_.sense_rules[rule];
    if (record.is_named != 0 || (record.among & both) == both) return;
  }
  Words words;
  for (const WordId word : trie_.words_to(node)) words.push_back(words_.text(word));
  report(b.place,
         "the form '" + joined(words) + "' can mean " + owner(b) + " or " + owner(a) + ' ' +
             where(a.place),
         "add a [[sense]] rule that chooses, or leave it to one of them");
}

void Builder::emit_trie() {
  tables_.words = words_.table(pool_);
  tables_.edges = trie_.edge_table();
  std::map<std::uint32_t, Range> rules_among;   // most nodes have only those of their kinds
  for (NodeId at = 0; at < trie_.nodes().size(); ++at) {
    const Trie::Node& node = trie_.nodes()[at];
    lexicon::Node record{};
    record.senses.begin = static_cast<std::uint32_t>(tables_.senses.size());
    record.senses.count = static_cast<std::uint32_t>(node.claims.size());
    if (named_rules_.contains(at)) {
      record.rules = pool_.list(rules_of(at));
    } else if (!node.claims.empty()) {
      const auto [found, fresh] = rules_among.try_emplace(kinds_of(node.claims));
      if (fresh) found->second = pool_.list(rules_of(at));
      record.rules = found->second;
    }
    record.children = node.children;
    for (const Claim& claim : node.claims) tables_.senses.push_back(claim.sense);
    tables_.nodes.push_back(record);
  }
}

}  // namespace racking::lexicon
