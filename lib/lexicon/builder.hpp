// The state of one build, shared by its steps: descriptors, records, forms.
#pragma once

#include <cstdint>
#include <map>
#include <memory_resource>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>
#include <vector>

#include "lexicon/compiled.hpp"
#include "lexicon/inflect.hpp"
#include "lexicon/pool.hpp"
#include "lexicon/shape.hpp"
#include "lexicon/source.hpp"
#include "lexicon/trie.hpp"

namespace racking::lexicon {

class Builder {
 public:
  Builder(const Source& source, const CompiledLexicon* base, std::vector<Problem>& problems)
      : source_(source), base_(base), problems_(problems), pool_(tables_, &arena_), trie_(&arena_) {}

  // The steps, in order.
  void take_base();
  void declare();
  void fill_descriptors();
  void fill_records();
  void claim_forms();
  void settle_slots();
  void spread_alternatives();
  void inflect_forms();
  void attach_rules();
  void check_collisions();
  void emit_trie();
  void emit_slots();
  void emit_spellings();

  Tables& tables() { return tables_; }

 private:
  using Ids = std::unordered_map<std::string, std::uint32_t>;
  struct Derived { std::vector<WordId> words; Claim claim; };
  struct Slot {
    std::string id;
    Place place;
    WordId word;                           // that stands for it in forms
    std::uint8_t names;                    // bit by NameKind: their last words too
    std::vector<std::uint32_t> own;        // words
    std::vector<std::uint32_t> includes;   // slots
    std::vector<std::uint32_t> words;      // all of them, once settled
    bool faulty = false;                   // what it should have is told to be wrong
  };

  // Problems.
  void report(const Place& place, std::string message, std::string mend);
  std::string where(const Place& place) const;
  std::string owner(const Claim& claim) const;
  std::string sight_name(std::uint32_t index) const;

  // Values of an entry.
  static const Text* text(const Entry& entry, std::string_view key);
  static const Texts& list(const Entry& entry, std::string_view key);
  static std::optional<std::pair<int, int>> steps(const Entry& entry, std::string_view key);
  static std::optional<double> number(const Entry& entry, std::string_view key);
  static bool flag(const Entry& entry, std::string_view key);
  static Place place_of(const Entry& entry, std::string_view key);
  // The position of a value in its closed list; `unset` if absent or not in it.
  static std::uint8_t member(const Entry& entry, std::string_view key, ClosedList list);
  static std::uint32_t mask(const Entry& entry, std::string_view key, ClosedList list);

  // References.
  std::vector<std::uint32_t> resolve(const Texts& names, const Ids& ids, std::string_view what);
  std::vector<std::uint32_t> traits_of(const Entry& entry);
  std::uint32_t trait(std::string_view id);
  std::vector<std::uint32_t> rule_words(const Entry& entry, std::string_view key);
  bool declare_id(const Entry& entry, Ids& ids, std::uint32_t index, std::string_view what);
  void check_id(const Text& id);

  // Declarations.
  void take_base_words();
  void declare_root();
  void declare_descriptor(const Entry& entry);
  void declare_compound(const Entry& entry);
  void declare_fault(const Entry& entry);
  void declare_inflections();
  void add_inflection(const Entry& entry);
  void add_exception(const Entry& entry, std::string_view key, Inflection kind);

  // Descriptors.
  void fill_descriptor(const Entry& entry, std::uint32_t index);
  void add_parents(const Entry& entry, std::uint32_t index);
  bool check_cycles();
  void report_cycle(const std::vector<std::pair<std::uint32_t, std::size_t>>& path,
                    std::uint32_t closing);
  void measure_depths();

  // Records, each with the index that its forms' senses have.
  std::uint32_t fill_record(const Entry& entry);
  std::uint32_t add_phrase(const Entry& entry);
  std::uint32_t add_level(const Entry& entry);
  std::uint32_t add_sight(const Entry& entry);
  std::uint32_t add_fault(const Entry& entry);
  std::uint32_t add_suspicion(const Entry& entry);
  void fill_allowance(const Entry& entry, SuspicionRecord& record);
  void add_evidence(const Entry& entry);
  void check_evidence_value(const Text& value, AgeCue cue);
  Range names_of(const Texts& names, bool or_traits);
  std::uint32_t add_name(const Entry& entry);
  std::uint8_t count(const Entry& entry, std::string_view key, int most, std::string_view what,
                     std::string mend);
  std::uint32_t add_cue(const Entry& entry);
  StringRef pooled(const Entry& entry, std::string_view key);   // empty if it is not given
  StringRef because(const Entry& entry);
  void set_cue(const Entry& entry, CueRecord& cue);
  void check_cue(const Entry& entry);
  void add_measure(const Entry& entry);
  void add_tell(const Entry& entry);
  std::uint32_t tell_bit(const Entry& entry, std::uint8_t of);
  void set_unit(const Entry& entry, MeasureRecord& record);

  // Units, bands and numbers in words: measures.cpp.
  void declare_measures();
  void declare_unit(const Entry& entry);
  void declare_band(const Entry& entry);
  void fill_band(const Entry& entry, BandRecord& record);
  void check_band(const Entry& entry, const BandRecord& record);
  void add_number(const Entry& entry);
  const UnitRecord* unit_of(std::uint8_t kind, std::string_view name) const;
  std::uint32_t declare_or_replace(const Entry& entry, Ids& ids, std::size_t size,
                                   std::string_view what);
  std::int32_t bound(const Entry& entry, std::string_view key);
  Range string_list(const Texts& texts);
  void add_sense_rule(const Entry& entry);

  // Slots: slot_words.cpp.
  void take_slots();
  void declare_slots();
  void declare_slot(const Entry& entry);
  void declare_alternatives(const Form& form);
  void fill_slot(const Entry& entry);
  void include_slot(std::uint32_t into, std::uint32_t other, const Text& named);
  void spread_slots();
  std::vector<Words> words_of(const Form& form, SenseKind kind);
  void report_slots(const Form& form);

  // Forms.
  std::vector<WordId> word_ids(const Words& words);
  std::vector<WordId> find_words(const Words& words) const;
  void claim_base();
  void claim_entry(const Entry& entry, std::uint32_t index);
  void claim(NodeId node, const Claim& claim);
  void derive_from(const Entry& entry, std::uint32_t index, std::vector<Derived>& out);
  bool claim_derived(const std::vector<WordId>& words, const Claim& claim);
  void claim_stripped();
  void attach_named(std::uint32_t rule, const Entry& entry);
  void check_pair(NodeId node, const Claim& a, const Claim& b);
  // Those that name the node's form, then those for all forms of its kinds.
  std::vector<std::uint32_t> rules_of(NodeId node) const;

  // Spelling.
  void emit_ordinary();
  void emit_affixes();
  std::vector<std::uint32_t> spelling_flags() const;

  const Source& source_;
  const CompiledLexicon* base_;
  std::vector<Problem>& problems_;
  Tables tables_;
  std::pmr::monotonic_buffer_resource arena_{std::size_t{1} << 20};
  Pool pool_;
  WordTable words_;
  Trie trie_;
  Inflector inflector_;
  text::TokenizedText scratch_;

  Ids descriptor_ids_, compound_ids_, trait_ids_, cue_ids_, rule_ids_, measure_ids_,
      unit_ids_, band_ids_, evidence_ids_, slot_ids_;
  std::map<int, std::uint32_t> fault_ids_;
  std::map<std::vector<std::string>, std::uint32_t> sight_ids_, name_ids_;
  std::vector<std::vector<std::uint32_t>> parents_, compounds_;   // by descriptor
  std::vector<Place> parents_places_;
  std::vector<std::uint32_t> index_of_entry_;   // the record of each entry, or none
  std::vector<std::pair<std::uint32_t, const Entry*>> rules_;   // of this source
  std::vector<Derived> base_derived_;
  std::vector<Slot> slots_;
  std::map<NodeId, std::vector<std::uint32_t>> named_rules_;
  std::unordered_map<std::string, Place> declared_;   // "descriptor lemon" → where
};

}  // namespace racking::lexicon
