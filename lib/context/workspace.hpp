// What the reading of one note passes from step to step; reused from note to note.
#pragma once

#include <array>
#include <cstdint>
#include <utility>
#include <vector>

#include "context/trace.hpp"
#include "lexicon/compiled.hpp"
#include "match/index.hpp"
#include "match/mention.hpp"
#include "match/quantities.hpp"
#include "note_content.hpp"
#include "text/tokens.hpp"

namespace racking::context {

inline constexpr std::uint16_t sentence_stop = 0x8000;  // beside the lexicon's Stop bits
constexpr std::uint16_t bits(lexicon::Stop stop) noexcept { return static_cast<std::uint16_t>(stop); }

// What a cue can set. One array of tokens each says which cue reaches where.
enum class Attribute : std::uint8_t { stance, when, frame, phase, strength, state, texture };
inline constexpr std::size_t attribute_count = 7;

// A cue where it stands in this note.
struct CueUse {
  std::uint32_t first = 0, last = 0;       // tokens
  std::uint32_t record = 0;                // into CompiledLexicon::cues
  bool forward_only = false;               // a verb: "finish hot" says nothing of what precedes
};

// A level, phrase or anchor alone, attached to its dimension.
struct StructureUse {
  std::uint32_t first = 0, last = 0;       // tokens of its span
  std::uint32_t anchor_first = 0, anchor_last = 0;  // empty if it has none
  Dimension dimension = Dimension::acidity;
  std::optional<Interval> range;
  bool negated = false;                    // denied, with no interval left
  bool left_by_denial = false;             // `range` is what a denial leaves
  lexicon::Range traits{0, 0};
  std::uint32_t trace = lexicon::none;     // into Trace::structures, if there is a trace
};

inline constexpr std::size_t language_count = 5;   // those told from English: see whole_note.cpp

// What the single words tell of the whole text, counted.
struct Tellings {
  std::array<std::uint32_t, language_count> languages{};
  std::uint32_t english = 0;               // words
  std::uint32_t wine = 0;                  // what speaks of a wine, weighed
  // What speaks for each other topic, weighed; amounts and rows of a table, counted.
  std::array<std::uint32_t, lexicon::topic_count> topics{};
  lexicon::Topic topic{};                  // the weightiest, once it is asked for
  std::uint32_t amounts = 0, rows = 0;
  bool several = false;                    // a word announces several wines …
  bool one_of_several = false;             // … or may stand for one of them
  std::uint32_t all = 0;                   // Tell bits, joined
  std::uint32_t weight = 0;                // of what clauses speak of, all frames together
};

struct Workspace {
  text::TokenizedText text;
  std::vector<match::KnownWord> known;
  std::vector<std::uint32_t> respelled;    // tokens read as another word, in order
  std::vector<match::Mention> mentions;
  std::vector<std::uint32_t> mention_at;   // by token: index + 1 of the mention over it
  // Indices of mentions, in order: those that act as a cue or may hold one, that are or may hold
  // an anchor, that may claim a sense, that hint at a fault; and, once decided, those with one.
  struct Lists { std::vector<std::uint32_t> cues, anchors, claiming, hints, decided; };
  Lists lists;
  std::vector<std::uint16_t> stops;        // by token: what stops right before it
  std::vector<CueUse> cues;
  // By attribute and token: index + 1 into `cues`; 0 where none reaches.
  std::array<std::vector<std::uint32_t>, attribute_count> reach;
  std::vector<Phase> phases;               // by token, cues and headings combined
  std::vector<Frame> frames;
  std::vector<StructureUse> structures;
  std::vector<match::FoundQuantity> quantities;
  std::vector<match::TokenRange> decoys;   // figures that are no quantity
  // By token: whether a reading, name or cue rests on it, and whether it says nothing by itself.
  static constexpr std::uint8_t accounted_for = 1, silent = 2;
  std::vector<std::uint8_t> accounted;
  Tellings tellings;
  std::vector<std::uint32_t> wines;        // tokens: where each wine of several begins
  bool no_note = false;                    // no wine is spoken of
  bool title_case = false;                 // a capital letter proves nothing in this note
  Trace* trace = nullptr;                  // set only while decisions are explained

  std::uint32_t token_count() const noexcept {
    return static_cast<std::uint32_t>(text.tokens.size());
  }
  bool stop_at(std::uint32_t token, std::uint16_t classes) const noexcept {
    return token >= stops.size() || (stops[token] & (classes | sentence_stop)) != 0;
  }
  const match::Mention* mention(std::uint32_t token) const noexcept {
    return token < mention_at.size() && mention_at[token] != 0
               ? &mentions[mention_at[token] - 1] : nullptr;
  }
  match::Mention* mention(std::uint32_t token) noexcept {
    return const_cast<match::Mention*>(std::as_const(*this).mention(token));
  }
  Span span(std::uint32_t first, std::uint32_t last) const noexcept {
    return {text.tokens[first].span.begin, text.tokens[last - 1].span.end};
  }
};

}  // namespace racking::context
