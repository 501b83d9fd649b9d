// What matching needs at hand, derived from a lexicon once and laid out for the cache.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <span>
#include <string_view>
#include <utility>
#include <vector>

#include "lexicon/compiled.hpp"
#include "lexicon/hash.hpp"

namespace racking::match {

// A word of the lexicon as the matcher sees it.
struct KnownWord {
  lexicon::WordId id = 0;        // 0: no form has the word
  lexicon::NodeId root = 0;      // the node it leads to from the root; 0: it begins no form
  std::uint32_t kinds = 0;       // of that node, with the marks of MatchIndex
  // Of a word in a text: where the word behind it may lead (`MatchIndex::likely_step`).
  lexicon::NodeId next = 0;
};

// Of several senses that no rule decides between, the first of these is meant.
inline constexpr std::array preferred_kinds = {
    lexicon::SenseKind::phrase, lexicon::SenseKind::descriptor, lexicon::SenseKind::level,
    lexicon::SenseKind::trait,  lexicon::SenseKind::hue,        lexicon::SenseKind::sight,
    lexicon::SenseKind::fault,  lexicon::SenseKind::name};

// Lists of words, one for each number.
class Rows {
 public:
  // Of pairs of a number below `count` and a word of its list.
  Rows() = default;
  Rows(std::size_t count, std::vector<std::pair<std::uint32_t, lexicon::WordId>> pairs);
  std::span<const lexicon::WordId> operator[](std::uint32_t row) const noexcept {
    return std::span(items_).subspan(begin_[row], begin_[row + 1] - begin_[row]);
  }

 private:
  std::vector<std::uint32_t> begin_;
  std::vector<lexicon::WordId> items_;
};

// Immutable; the lexicon must outlive it.
class MatchIndex {
 public:
  // Beside the kind bits of a node: a cue sense acts (is no mere stop or decoy); one heads a
  // section; longer forms go through the node; it joins the items of a list ("and"); it is a
  // state that goes with each item of a list ("dried"); whether it acts depends on where it
  // stands (a reply, a verdict, a subject).
  static constexpr std::uint32_t acts = 1u << 14, heads = 1u << 15, goes_on = 1u << 16,
                                 joins = 1u << 17, shares_state = 1u << 18, placed = 1u << 19;
  // Beside those of a word: it tells of the whole text (`tells_of`).
  static constexpr std::uint32_t tells = 1u << 20;
  // Of a node: a slot may follow, or any word. Of a word: that, or a form begins with its slot.
  static constexpr std::uint32_t slots = 1u << 21;
  static constexpr std::uint32_t kind_mask = acts - 1;

  // Throws Error (lexicon_invalid) if the lexicon has more than 2 million words or nodes.
  explicit MatchIndex(const lexicon::CompiledLexicon& lexicon);

  const lexicon::CompiledLexicon& lexicon() const noexcept { return lexicon_; }

  // A hash of a key of up to 15 bytes, by which words are told apart: the lexicon's own have
  // different ones, and a stranger has one of theirs by an accident of one in 10^14. `key` is
  // of a TokenizedText: bytes are read past its end (key_padding).
  static std::uint64_t fingerprint(std::string_view key) noexcept;
  // Asks for the memory that `word` will look at.
  void prefetch(std::uint64_t fingerprint) const noexcept {
    __builtin_prefetch(&buckets_[bucket_of(fingerprint)]);
  }
  KnownWord word(std::uint64_t fingerprint) const noexcept;
  KnownWord word(std::string_view key) const noexcept {
    return key.size() > longest_short_key ? long_word(key) : word(fingerprint(key));
  }
  static constexpr std::size_t longest_short_key = 15;

  // What stands for any year in a form, and for any other number.
  static constexpr std::string_view year_form = "yyyy", number_form = "nnn";
  // Tell bits of a word.
  std::uint32_t tells_of(const KnownWord& word) const noexcept {
    return (word.kinds & tells) != 0 ? tells_[word.id] : 0;
  }
  // The cue that weighs what words say of a frame, in the order of their tells; none if there is
  // no such cue.
  std::uint32_t weighed_cue(unsigned frame) const noexcept { return weighed_cues_[frame]; }
  // The least weight that any of them takes.
  std::uint32_t least_weight() const noexcept { return least_weight_; }
  KnownWord year() const noexcept { return year_; }
  KnownWord number() const noexcept { return number_; }

  // The word of an id, not 0.
  KnownWord known(lexicon::WordId id) const noexcept {
    const lexicon::NodeId root = roots_[id];
    return {id, root, nodes_[root].kinds | (tells_[id] != 0 ? tells : 0) |
                          (begins_slot_form(id) ? slots : 0), 0};
  }
  // The slots that a word is in, in order, and those of them that a form begins with; what stands
  // for any word in a form, 0 if no form has it; and the node of forms that begin with a word or a
  // slot.
  std::span<const lexicon::WordId> slots_of(lexicon::WordId id) const noexcept { return slots_[id]; }
  std::span<const lexicon::WordId> first_slots(lexicon::WordId id) const noexcept { return first_slots_[id]; }
  lexicon::WordId any_word() const noexcept { return any_word_; }
  lexicon::NodeId root(lexicon::WordId id) const noexcept { return roots_[id]; }
  // How wide a place of a form is: 0 a word or alternatives written there, a slot by its name,
  // any word.
  static constexpr std::uint8_t named_width = 1, any_width = 32;
  std::uint32_t width(lexicon::WordId id) const noexcept { return widths_[id]; }

  // The slots that may follow a node, in order, with where each leads. Any word stands apart.
  struct SlotEdge { lexicon::WordId slot = 0; lexicon::NodeId to = 0; };
  std::span<const SlotEdge> slot_edges(lexicon::NodeId node) const noexcept {
    const SlotRun& run = slot_runs_[nodes_[node].slot_run];
    return std::span(slot_edges_).subspan(run.begin, run.count);
  }
  // False if no form goes on from `first` to `next` by a slot, be it of the one or of the other;
  // true tells nothing.
  bool may_go_on(lexicon::WordId first, lexicon::WordId next) const noexcept {
    const Ahead& ahead = ahead_[first];
    return (ahead.words >> word_mark(next) & 1) != 0 || (ahead.slots & slot_marks_[next]) != 0;
  }
  // False if the word is in no slot that may follow the node; true tells nothing.
  bool may_follow(lexicon::NodeId node, lexicon::WordId word) const noexcept {
    return (slot_runs_[nodes_[node].slot_run].marks & slot_marks_[word]) != 0;
  }

  // What matching and context ask of a node, side by side.
  struct Node {
    std::uint32_t kinds = 0;       // kind bits of all senses, and the marks above
    std::uint16_t stops = 0;       // stop classes that its cues are
    std::uint8_t rule_count = 0;   // sense rules to try
    lexicon::SenseKind kind = lexicon::SenseKind::known;   // of the sense meant where no rule decides
    std::uint32_t sense = lexicon::none;                   // its index in the kind's table
    std::uint32_t rules = 0;       // the rules, in the index pool
    lexicon::NodeId parent = 0;    // the node it is a step from, and the word of the step
    lexicon::WordId word = 0;
    std::uint32_t slot_run = 0;    // its slot edges
  };
  const Node& node(lexicon::NodeId node) const noexcept { return nodes_[node]; }
  void prefetch_node(lexicon::NodeId node) const noexcept { __builtin_prefetch(&nodes_[node]); }
  std::uint32_t kinds(lexicon::NodeId node) const noexcept { return nodes_[node].kinds; }

  // The first sense of `kind`, as its index in the kind's table; none if the node has none.
  std::uint32_t sense(lexicon::NodeId node, lexicon::SenseKind kind) const noexcept {
    return nodes_[node].kind == kind ? nodes_[node].sense : other_sense(node, kind);
  }

  // The node that `word` leads to from a node that goes on, and its kinds; 0 if none.
  struct Step { lexicon::NodeId node = 0; std::uint32_t kinds = 0; };
  Step step(lexicon::NodeId from, lexicon::WordId word) const noexcept {
    const std::uint32_t pair = pair_hash(from, word);
    if ((pairs_[pair >> 6] >> (pair & 63) & 1) == 0) return {};
    for (std::size_t at = pair & edge_mask_; edges_[at] != 0; at = (at + 1) & edge_mask_) {
      const Node& node = nodes_[edges_[at]];
      if (node.parent == from && node.word == word) return {edges_[at], node.kinds};
    }
    return {};
  }
  // The node that such a step most likely leads to, asked for ahead; 0 if there is none. It waits
  // for no memory: what it says is to be checked by the step that `from_likely` takes.
  lexicon::NodeId likely_step(lexicon::NodeId from, lexicon::WordId word) const noexcept {
    const std::uint32_t pair = pair_hash(from, word);
    const auto some = static_cast<std::uint32_t>(pairs_[pair >> 6] >> (pair & 63) & 1);
    const lexicon::NodeId likely = edges_[pair & edge_mask_] & (0 - some);
    __builtin_prefetch(&nodes_[likely]);
    return likely;
  }
  Step from_likely(lexicon::NodeId likely, lexicon::NodeId from,
                   lexicon::WordId word) const noexcept {
    if (likely == 0) return {};
    const Node& node = nodes_[likely];
    return node.parent == from && node.word == word ? Step{likely, node.kinds} : step(from, word);
  }

 private:
  static constexpr std::size_t bucket_size = 4;
  // By length of a key: which bits of its first eight bytes are its own; from 16 on, of its
  // second eight.
  static constexpr std::array<std::uint64_t, 32> key_masks = [] {
    std::array<std::uint64_t, 32> masks{};
    for (unsigned size = 0; size < 16; ++size) {
      masks[size] = size >= 8 ? ~std::uint64_t{0} : (std::uint64_t{1} << size * 8) - 1;
      masks[size + 16] = size <= 8 ? 0 : (std::uint64_t{1} << (size - 8) * 8) - 1;
    }
    return masks;
  }();
  // Word id, root and kinds in one number.
  static constexpr unsigned id_bits = 21, kind_bits = 64 - 2 * id_bits;

  // A cache line: four words. One that is full may go on in the next.
  struct alignas(64) Bucket {
    std::array<std::uint64_t, bucket_size> fingerprint{}, word{};   // 0: free
  };
  std::size_t bucket_of(std::uint64_t fingerprint) const noexcept {
    return static_cast<std::size_t>((fingerprint >> 32) * bucket_count_ >> 32);
  }

  // A bit is set for each pair of a node and a child's word; most pairs of neighbours in a
  // text are none, and need look no further.
  static constexpr unsigned pair_bits = 20;
  static std::uint32_t pair_hash(lexicon::NodeId from, lexicon::WordId word) noexcept {
    return (from * 0x9e3779b1u ^ word * 0x85ebca6bu) >> (32 - pair_bits);
  }
  KnownWord long_word(std::string_view key) const noexcept;
  std::uint32_t other_sense(lexicon::NodeId node, lexicon::SenseKind kind) const noexcept;
  void find_weighed_cues();
  static std::uint64_t slot_mark(lexicon::WordId slot) noexcept { return std::uint64_t{1} << (slot * 0x9e3779b1u >> 26); }
  static unsigned word_mark(lexicon::WordId word) noexcept { return word * 0x85ebca6bu >> 26; }
  bool begins_slot_form(lexicon::WordId id) const noexcept;
  void lay_out_slots();
  void lay_out_slot_edges();
  void lay_out_ahead(const std::vector<bool>& is_slot);
  void lay_out_nodes();
  void lay_out_edges();
  void lay_out_words();

  const lexicon::CompiledLexicon& lexicon_;
  std::vector<Bucket> buckets_;
  std::uint64_t bucket_count_ = 0;       // without the one behind, that a search ends at
  std::vector<lexicon::NodeId> roots_;   // by word id
  std::vector<std::uint32_t> tells_;     // by word id
  // A bit for each of the slots of a node's edges, or of a word; one bit stands for many slots.
  struct SlotRun { std::uint64_t marks = 0; std::uint32_t begin = 0, count = 0; };
  // What may stand second in forms that begin with a word, where one of the two is of a slot: a bit
  // for many each.
  struct Ahead { std::uint64_t words = 0, slots = 0; };
  Rows slots_, first_slots_;             // by word id
  std::vector<Ahead> ahead_;             // by word id
  std::vector<std::uint64_t> slot_marks_;   // by word id
  std::vector<std::uint8_t> widths_;     // by word id
  std::vector<SlotRun> slot_runs_;
  std::vector<SlotEdge> slot_edges_;
  lexicon::WordId any_word_ = 0;
  std::vector<Node> nodes_;
  std::vector<lexicon::NodeId> edges_;   // where each leads; open-addressed by pair, 0: free
  std::size_t edge_mask_ = 0;
  std::vector<std::uint64_t> pairs_;
  std::array<std::uint32_t, lexicon::weighed_frames> weighed_cues_{};
  std::uint32_t least_weight_ = lexicon::none;
  KnownWord year_, number_;
};

inline std::uint64_t MatchIndex::fingerprint(std::string_view key) noexcept {   // never 0
  const auto low = lexicon::hash::load(key.data()) & key_masks[key.size()];
  const auto high = lexicon::hash::load(key.data() + 8) & key_masks[key.size() + 16];
  // The halves of a 128-bit product: every bit of the key is in every bit of the hash.
  __extension__ using Wide = unsigned __int128;
  const Wide product = static_cast<Wide>(low ^ lexicon::hash::k0) *
                       (high ^ lexicon::hash::k1 ^ (std::uint64_t{key.size()} << 56));
  return (static_cast<std::uint64_t>(product) ^ static_cast<std::uint64_t>(product >> 64)) | 1;
}

inline KnownWord MatchIndex::word(std::uint64_t fingerprint) const noexcept {
  constexpr std::uint64_t id_mask = (std::uint64_t{1} << id_bits) - 1;
  for (std::size_t at = bucket_of(fingerprint);; ++at) {
    const Bucket& bucket = buckets_[at];
    std::uint64_t found = 0;
    for (std::size_t i = 0; i < bucket_size; ++i)
      found |= bucket.word[i] & (0 - std::uint64_t{bucket.fingerprint[i] == fingerprint});
    if (found != 0)
      return {static_cast<lexicon::WordId>(found & id_mask),
              static_cast<lexicon::NodeId>(found >> id_bits & id_mask),
              static_cast<std::uint32_t>(found >> 2 * id_bits), 0};
    if (bucket.fingerprint[bucket_size - 1] == 0) return {};
  }
}

}  // namespace racking::match
