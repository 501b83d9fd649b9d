// A form of the lexicon found in a text, its senses still open.
#pragma once

#include <cstdint>
#include <vector>

#include "lexicon/compiled.hpp"

namespace racking::match {

struct Mention {
  std::uint32_t first = 0, last = 0;           // tokens, half-open
  lexicon::NodeId node = 0;
  std::uint32_t kinds = 0;                     // kind bits of all its senses
  // A word that coordination shares stands elsewhere ("red … cherries"): these tokens.
  std::uint32_t shared_first = 0, shared_last = 0;
  // The sense decided on, in `context`.
  std::uint32_t index = lexicon::none;         // in the kind's table
  std::uint32_t rule = lexicon::none;          // sense rule that decided
  lexicon::SenseKind kind = lexicon::SenseKind::known;
  bool decided = false;                        // has a claiming sense that is meant
  bool respelled = false;
  bool used = false;                           // some reading rests on it

  bool may_be(lexicon::SenseKind sense) const noexcept {
    return (kinds & lexicon::kind_bit(sense)) != 0;
  }
  bool is(lexicon::SenseKind sense) const noexcept { return decided && kind == sense; }
  bool shares() const noexcept { return shared_last > shared_first; }
};

// The sense of `kind` of a node; nullptr if it has none.
inline const lexicon::Sense* sense_of(const lexicon::CompiledLexicon& lexicon,
                                      lexicon::NodeId node, lexicon::SenseKind kind) noexcept {
  for (const lexicon::Sense& sense : lexicon.senses_of(node))
    if (sense.kind == kind) return &sense;
  return nullptr;
}

}  // namespace racking::match
