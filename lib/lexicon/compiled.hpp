// The compiled lexicon: flat tables, immutable, one blob.
#pragma once

#include <array>
#include <cstdint>
#include <limits>
#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "lexicon/hash.hpp"
#include "racking/vocabulary.hpp"

namespace racking::lexicon {

using WordId = std::uint32_t;            // 0: no word of the lexicon
using NodeId = std::uint32_t;            // 0: the trie's root; also "no node"
inline constexpr std::uint32_t none = 0xffffffffu;
inline constexpr std::uint8_t unset = 0xff;  // an enumeration that is not given

// Part of the string pool, and part of the index pool.
struct StringRef { std::uint32_t offset, length; };
struct Range { std::uint32_t begin, count; };

enum class SenseKind : std::uint8_t {
  descriptor, phrase, level, anchor, modifier, trait, hue, sight, fault, hint, companion, name,
  cue, known
};
inline constexpr std::size_t sense_kind_count = 14;
constexpr std::uint32_t kind_bit(SenseKind kind) noexcept {
  return 1u << static_cast<unsigned>(kind);
}
// Kinds that claim a form for themselves: two of them on one form need a sense rule
// (level with trait excepted: the level where it attaches, else the trait).
inline constexpr std::uint32_t claiming_kinds =
    kind_bit(SenseKind::descriptor) | kind_bit(SenseKind::phrase) | kind_bit(SenseKind::level) |
    kind_bit(SenseKind::trait) | kind_bit(SenseKind::hue) | kind_bit(SenseKind::sight) |
    kind_bit(SenseKind::fault) | kind_bit(SenseKind::name);

// Kinds whose forms may have slots.
inline constexpr std::uint32_t slotted_kinds =
    kind_bit(SenseKind::hint) | kind_bit(SenseKind::companion) | kind_bit(SenseKind::cue) |
    kind_bit(SenseKind::known);

struct Sense {
  enum Flag : std::uint8_t {
    inflected = 1,   // a plural made by rule
    derived = 2,     // an adjective made by rule
    adjective = 4,   // given as an adjective
    stripped = 8,    // an accented form without its accents, where no other form claims it
    shorthand = 16,  // given as an abbreviation: no spelling to correct to
  };
  SenseKind kind;
  std::uint8_t flags;
  std::uint16_t reserved;
  std::uint32_t index;   // into the kind's table
};

// A node of the phrase trie, on word ids. Nodes of one parent need not be neighbours.
struct Node {
  Range senses;          // into `senses`; empty: not the end of a form
  Range rules;           // into `indices`: sense rules to try, in order
  std::uint32_t children;  // how many
  std::uint32_t reserved;
};

// An edge, in an open-addressed table keyed by (from, word). `to` 0: an empty slot.
struct Edge { NodeId from; WordId word; NodeId to; std::uint32_t reserved; };

// A word of any form, in an open-addressed table keyed by the hash of its key.
// An accent-stripped alias of an accented word has the same id, unless another form
// spells it so.
struct Word { StringRef key; WordId id; std::uint32_t is_alias; };

struct DescriptorRecord {
  StringRef id, label, gloss;
  Range parents, children, compounds;    // index pool
  std::uint32_t family;                  // descriptor index; none for the root
  std::uint32_t depth;                   // nodes on the longest chain from the root, which has 1
  std::uint16_t state;                   // State bits
  std::uint8_t origin;                   // Origin bits
  std::uint8_t is_family;
};
struct CompoundRecord { StringRef id, label, source; };
struct PhraseRecord {
  Range traits;                          // trait indices
  std::uint8_t dimension;                // unset: a trait of the whole
  std::uint8_t low, high;                // 0: no range
  std::uint8_t reserved;
};
struct LevelRecord {
  Range traits;
  std::array<std::uint8_t, 8> low, high;   // by Dimension; 0: does not go with it
  std::uint8_t alone;                      // Dimension, or unset
  std::uint8_t fragment;                   // the same, but only as a whole fragment ("…, long.")
  std::array<std::uint8_t, 6> reserved;
};
struct AnchorRecord { std::uint8_t dimension; };
enum class Shift : std::uint8_t { up, down, high, low };
struct ModifierRecord { std::uint8_t shift; };
struct TraitRecord { StringRef id; };
struct HueRecord { std::uint8_t hue; };
struct SightRecord {
  StringRef value;
  std::uint8_t kind;                     // SightKind
  std::uint8_t low, high;                // depth only; 0: none
  std::uint8_t reserved;
};
struct FaultRecord {
  StringRef caution;
  Range compounds;
  Range confused_with;                   // Fault values in the index pool
  std::uint8_t fault;
  std::array<std::uint8_t, 7> reserved;
};
// What suggests a fault; or, as an allowance, what says that it is a style or will pass.
struct SuspicionRecord {
  enum Flag : std::uint8_t {
    allowance = 1,
    welcome = 2,                         // an allowance whose forms praise
    exact = 4,                           // descriptors do not stand for those below them
  };
  StringRef remark;                      // said instead, where the suspicion is too faint
  Range any, with;                       // descriptor indices
  Range traits;                          // allowances: trait indices
  Range names;                           // allowances: offset and length of each name
  std::uint8_t fault;
  std::uint8_t has_companions;           // SenseKind::companion senses point here
  std::uint8_t flags;
  std::uint8_t reserved;

  bool is(Flag flag) const noexcept { return (flags & flag) != 0; }
};
// What speaks of a wine's stage of life, which way, and how much.
enum class AgeCue : std::uint8_t {
  core, rim, gradation, rim_width, depth, deposit, aroma, fruit, tannin, words, age
};
inline constexpr std::size_t age_cue_count = 11;
struct EvidenceRecord {
  StringRef id, because;
  Range values;                          // offset and length of each: hues, states, traits …
  Range unless;                          // … and of names and traits that take it away
  std::uint16_t least, most;             // tenths of a millimetre, or of a year
  std::uint8_t cue;                      // AgeCue
  std::uint8_t wine;                     // bit by WineColour; 0: any
  std::uint8_t points_to;                // 0 younger, 1 older
  std::uint8_t weight;                   // 0: it counts for nothing
  std::uint8_t supports;                 // it gives no stage alone
  std::uint8_t low, high;                // steps of depth or tannin; 0: none
  std::uint8_t unless_sweet;
};
struct NameRecord { StringRef name; std::uint8_t kind, colour, style, reserved; };

enum class Role : std::uint8_t {
  forward, backward, both, stop, decoy, heading, here, around, weighed, reply, verdict, subject
};
// Such a cue acts only where it stands as one.
constexpr bool acts_by_place(Role role) noexcept { return role >= Role::reply; }
// What ends a cue's scope, beside the sentence, which always does (headings' last
// until the next heading).
enum class Stop : std::uint16_t {
  line = 1, clause = 2, comma = 4, contrast = 8, verb = 16, conjunction = 32, phase = 64,
  frame = 128, negation = 256, preposition = 512, determiner = 1024,
  copula = 2048, place = 4096, home = 8192, turn = 16384
};
struct CueRecord {
  StringRef id;
  StringRef because;                     // what its words do, in plain words; may be empty
  std::uint16_t stops;                   // Stop bits that end its scope
  std::uint16_t is_stop;                 // Stop bits that it is, for others
  std::uint16_t state;                   // State bits it sets; 0: none
  std::uint8_t role;
  std::uint8_t limit;                    // most word tokens in scope; 0: no limit
  std::uint8_t stance, when, frame, phase, texture, list;  // unset, or the value; list 1: see below
  std::uint8_t strength_low, strength_high;                // 0: none
  std::uint8_t contrasted;               // 1: acts only where this wine is told apart from it
  std::uint8_t bare;                     // 1: acts only where no cue of phase or strength reaches it
  std::uint8_t least;                    // weighed: the weight of words that it takes
  std::array<std::uint8_t, 1> reserved;
};
// `list` of a cue that acts, `or`: its scope crosses a comma only if the list goes on to an
// "or" or "nor". Of a stop or decoy, what it does in a list: ends it as "or" does; sets an item
// against the one before ("not", "rather than"); stands between a head and its items ("of");
// announces two ("both").
enum class List : std::uint8_t { or_, against, of, both, head, part, pair };

// Words that say nothing of smell or build. `is_talk`: 0 function word, 1 small talk.
// Some say which wine it is ("white wine"); then colour or style is set.
struct KnownRecord { std::uint8_t is_talk, colour, style, reserved; };

// Words any of which may stand in one place of a form, where the form has the slot's own word.
struct SlotRecord {
  StringRef id;
  Range own, includes;                   // its own words, and other slots: what an overlay adds to
  Range words;                           // all of them, in order
  WordId word;                           // "{id}", which no text has
  std::uint8_t names;                    // bit by NameKind: last words of names are in it
  std::uint8_t reserved[3];
};

// What a single word tells of the whole text it stands in.
enum class Tell : std::uint32_t {
  french = 1, italian = 2, spanish = 4, german = 8, portuguese = 16,   // the language
  wine = 32,                             // a wine is spoken of
  vessel = 64, ordinal = 128,            // together they name one of several: "second glass"
  amount = 256                           // a unit of kitchen and shop, after a number: "200 g"
};
constexpr std::uint32_t bit(Tell tell) noexcept { return static_cast<std::uint32_t>(tell); }
// A language's bit, moved up by this: a word that its notes share with English ones.
inline constexpr unsigned shared_shift = 16;
// What a word says of the clause it stands in: a weight of two bits for each frame that words
// speak of, and one bit for what the wine is tasted to be; another if it may be said of other things.
inline constexpr unsigned weight_shift = 21, weighed_frames = 5;
inline constexpr std::uint32_t tasted_tell = 1u << (weight_shift + 2 * weighed_frames);
inline constexpr std::uint32_t perhaps_tasted_tell = 1u << 15;
inline constexpr std::uint32_t weight_tells = tasted_tell - (1u << weight_shift);
constexpr std::uint32_t weight_of(std::uint32_t tells, unsigned frame) noexcept {
  return tells >> (weight_shift + 2 * frame) & 3;
}
// What a word speaks of beside wine, if anything: other texts by what they are about, and the
// portions and the number of the wines. A word has one topic (of its kind, the last that is given).
enum class Topic : std::uint8_t {
  kitchen, trade, letter, verse, scent, drink, home, weather, code, elsewhere,
  portion,                               // what one wine has several of: "first sip", "one of us"
  several,                               // more wines than one are announced: "flight", "versus"
  pronoun,                               // stands for a wine: "one", "another"
  compared,                              // tells one of two from the other: "younger", "upper"
  undated                                // stands for a year: "NV"
};
inline constexpr unsigned topic_count = 10;   // of other texts
// A weight of two bits, 1 to 3, of the topic or of what speaks of a wine, and the topic's number
// from 1 on.
inline constexpr unsigned whole_weight_shift = 9, topic_shift = 11;
inline constexpr std::uint32_t whole_weights = 3u << whole_weight_shift, topic_tells = 15u << topic_shift;
constexpr std::uint32_t weight_of_whole(std::uint32_t tells) noexcept {
  return (tells & whole_weights) >> whole_weight_shift;
}
constexpr bool has_topic(std::uint32_t tells) noexcept { return (tells & topic_tells) != 0; }
// Only if it has one.
constexpr Topic topic_of(std::uint32_t tells) noexcept {
  return static_cast<Topic>(((tells & topic_tells) >> topic_shift) - 1);
}
struct TellRecord {
  StringRef word;
  std::uint32_t tells;                   // Tell bits
};

// Chooses among the senses of a form. All given conditions must hold; a list holds if
// any of its members does.
struct SenseRuleRecord {
  StringRef id;
  StringRef because;                     // why it chooses so, in plain words; may be empty
  Range next, previous;                  // word ids that stand right after, right before
  Range not_next, not_previous;
  std::uint32_t among;                   // kind bits: the form has all of these
  std::uint32_t choose;                  // kind bit; 0: none of them is meant
  std::uint32_t next_kinds, previous_kinds;  // a mention of such a kind stands right there
  std::uint32_t company;                 // … or in the same clause
  std::uint32_t choose_index;            // index in the kind's table, or none: any
  std::uint8_t phases;                   // bit by Phase
  std::uint8_t first;                    // before any nose or palate cue of the note
  std::uint8_t capital;                  // 1 must, 2 must not be capitalised
  std::uint8_t is_named;                 // only for the forms that it names
  std::uint8_t alone;                    // all between two: 1 marks, 2 marks that are no comma; 0: any
  std::uint8_t reserved[3];
};

struct MeasureRecord {
  StringRef id, pattern, unit;
  StringRef begins;                      // the number that it begins at; empty: any
  double factor, offset;                 // value in the note × factor + offset = value in `unit`
  double out_of;                         // scores; 0: given by the pattern, or none
  double least, most;                    // values outside are no such quantity
  std::uint8_t kind;                     // QuantityKind
  std::uint8_t frame;                    // Frame, or unset
  std::uint8_t decoy;                    // looks like a measure and is none
  std::uint8_t reserved[5];
};

// A unit of one quantity: value × factor + offset = value in the quantity's own unit.
struct UnitRecord {
  StringRef id, name, source;
  Range aliases;                         // strings
  double factor, offset;
  std::uint8_t kind;                     // QuantityKind
  std::uint8_t reserved[7];
};

// A stretch of one quantity with a name: a legal term, a limit, a class. Numbers are
// thousandths of `unit`, so that no bound is a binary fraction.
inline constexpr std::int32_t no_bound = std::numeric_limits<std::int32_t>::min();
struct BandRecord {
  StringRef id, name, unit, authority, source, as_of;
  Range terms;                           // strings: the words of the term, folded
  Range beyond;                          // bands that it begins above
  std::int32_t least, above, most, below;
  std::int32_t acid_most, acid_gap;      // or up to acid_most, if at most acid_gap over the acidity
  std::int32_t tolerance;
  std::uint8_t kind;                     // QuantityKind
  std::uint8_t rule;                     // BandRule
  std::uint8_t styles, colours;          // a bit each; 0: any
  std::uint8_t undosed;                  // only if nothing was added
  std::uint8_t remark;                   // whether a note is told
  std::uint8_t reserved[2];
};

// A word that is, or is part of, a number in words.
enum class NumberRole : std::uint8_t { count, hundred, part, point, joint, article, measured };
struct NumberRecord {
  WordId word;
  std::int32_t value;                    // thousandths
  std::uint8_t role;                     // NumberRole
  std::uint8_t reserved[3];
};

// How words are inflected; kept so that overlays inflect as the lexicon below them does.
enum class Inflection : std::uint8_t { plural, adjective };
struct InflectionRecord {
  StringRef ending, replace;
  std::uint8_t kind;                     // Inflection
  std::uint8_t after;                    // 0 anything, 1 a vowel, 2 a consonant before the ending
  std::uint16_t reserved;
};
struct ExceptionRecord {
  StringRef form;                        // its words with spaces between
  Range made;                            // offset and length of each, in the index pool
  std::uint8_t kind;                     // Inflection
  std::uint8_t reserved[3];
};

// What an ordinary word may bear beyond its listed form.
struct AffixRecord {
  StringRef text;                        // an ending, or a prefix
  StringRef replace;                     // endings: what stands for it in the listed word
  std::uint8_t is_prefix;
  std::uint8_t reserved[3];
};

// A word of the lexicon that a slip of the pen may have meant, in letters a–z alone.
struct Spelling {
  enum Flag : std::uint32_t {
    alone = 1u << 30,                    // a form of taste, sight or condition by itself
    in_form = 1u << 31,                  // … or in one
  };
  StringRef key;
  WordId word;
  std::uint32_t letters;                 // a bit for each letter that it has, and flags
};

// Every table of the blob, in its order. The builder fills vectors; the view spans them.
#define RACKING_LEXICON_TABLES(X)                                                        \
  X(char, strings) X(std::uint32_t, indices) X(Word, words) X(Node, nodes) X(Edge, edges) \
  X(Sense, senses) X(DescriptorRecord, descriptors) X(CompoundRecord, compounds)          \
  X(PhraseRecord, phrases) X(LevelRecord, levels) X(AnchorRecord, anchors)                \
  X(ModifierRecord, modifiers) X(TraitRecord, traits) X(HueRecord, hues)                  \
  X(SightRecord, sights) X(FaultRecord, faults) X(SuspicionRecord, suspicions)            \
  X(EvidenceRecord, evidence) X(NameRecord, names) X(CueRecord, cues)                     \
  X(KnownRecord, knowns) X(TellRecord, tells) X(SlotRecord, slots)                        \
  X(SenseRuleRecord, sense_rules) X(MeasureRecord, measures)                              \
  X(UnitRecord, units) X(BandRecord, bands) X(NumberRecord, numbers)                      \
  X(InflectionRecord, inflections) X(ExceptionRecord, exceptions)                         \
  X(AffixRecord, affixes) X(std::uint32_t, ordinary) X(Spelling, spellings)

struct Tables {
#define X(Type, name) std::vector<Type> name;
  RACKING_LEXICON_TABLES(X)
#undef X
};

class CompiledLexicon {
 public:
  // Both own their bytes. Throws Error (lexicon_corrupt) if a check fails: magic, format
  // version, sizes, checksum, and that every index stays inside its table.
  static std::shared_ptr<const CompiledLexicon> from_blob(std::string blob);
  // The embedded blob is not copied; it must outlive the lexicon.
  static std::shared_ptr<const CompiledLexicon> from_static(std::string_view blob);

#define X(Type, name) std::span<const Type> name;
  RACKING_LEXICON_TABLES(X)
#undef X

  std::string_view name, version;
  std::string_view digest;               // 16 hexadecimal digits
  std::string_view blob;

  std::string_view string(StringRef ref) const noexcept {
    return {strings.data() + ref.offset, ref.length};
  }
  std::span<const std::uint32_t> range(Range r) const noexcept {
    return indices.subspan(r.begin, r.count);
  }
  std::span<const Sense> senses_of(NodeId node) const noexcept {
    return senses.subspan(nodes[node].senses.begin, nodes[node].senses.count);
  }
  // The id of a folded key; 0 if no form has such a word.
  WordId word(std::string_view key) const noexcept;
  // The node that `word` leads to from `from`; 0 if none.
  NodeId step(NodeId from, WordId word) const noexcept;

  CompiledLexicon(const CompiledLexicon&) = delete;
  CompiledLexicon& operator=(const CompiledLexicon&) = delete;

 private:
  CompiledLexicon() = default;
  void attach(std::string_view bytes);   // checks it all
  std::string owned_;
};

inline NodeId CompiledLexicon::step(NodeId from, WordId word) const noexcept {
  if (word == 0) return 0;
  const std::size_t mask = edges.size() - 1;
  for (std::size_t at = hash_edge(from, word) & mask;; at = (at + 1) & mask) {
    const Edge& edge = edges[at];
    if (edge.to == 0) return 0;
    if (edge.from == from && edge.word == word) return edge.to;
  }
}

inline WordId CompiledLexicon::word(std::string_view key) const noexcept {
  const std::size_t mask = words.size() - 1;
  for (std::size_t at = hash_key(key) & mask;; at = (at + 1) & mask) {
    const Word& word = words[at];
    if (word.id == 0) return 0;
    if (word.key.length == key.size() && string(word.key) == key) return word.id;
  }
}

// Writes the blob. `name` and `version` are stored in it; the digest covers all of it.
std::string write_blob(const Tables& tables, std::string_view name, std::string_view version);

}  // namespace racking::lexicon
