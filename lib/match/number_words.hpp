// Numbers in words: "thirteen and a half", "half an", "two or three", "13½".
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "lexicon/compiled.hpp"
#include "match/index.hpp"
#include "text/tokens.hpp"

namespace racking::match {

// Bytes [begin, end) of a rewritten text, and the tokens [first, last) that they stand for.
struct Piece { std::uint32_t begin, end, first, last; };

struct Rewritten {
  std::string text;
  std::vector<Piece> pieces;
};

// The lexicon's words of numbers. Immutable; the lexicon must outlive it.
class NumberWords {
 public:
  explicit NumberWords(const lexicon::CompiledLexicon& lexicon);

  // Whether a number may begin with the word: a bit a word, so that most words cost no more.
  bool has(lexicon::WordId word) const noexcept {
    return word < bits_.size() * 64 && (bits_[word >> 6] >> (word & 63) & 1) != 0;
  }

  // Tokens [from, to) with every number from `t` on in figures, if a number with words in it
  // begins at `t` and a word of measure follows it. Nothing else.
  std::optional<Rewritten> rewrite(std::string_view text, const text::TokenizedText& tokens,
                                   const std::vector<KnownWord>& known, std::uint32_t from,
                                   std::uint32_t t, std::uint32_t to) const;

 private:
  struct Number {
    std::int64_t thousandths;
    std::uint32_t last;
    bool in_words;             // not figures alone
  };
  class Parser;
  const lexicon::NumberRecord* find(lexicon::WordId word) const noexcept;

  std::vector<std::uint64_t> bits_;
  std::vector<lexicon::NumberRecord> records_;   // by word
};

}  // namespace racking::match
