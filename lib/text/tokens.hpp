// A note cut into tokens, with folded keys beside the untouched original.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "racking/span.hpp"

namespace racking::text {

enum class TokenKind : std::uint8_t { word, number, punctuation, symbol };

struct Token {
  enum Flag : std::uint16_t {
    space_before = 1,        // white space, or a break, stands before it
    line_before = 2,         // a line break that is not a soft wrap
    blank_line_before = 4,   // an empty line: a new paragraph
    sentence_start = 8,      // on the first token of a sentence, be it an opening mark
    joined_before = 16,      // a hyphen, and nothing else, joins it to the token before
    capital = 32,            // begins with an upper-case (or title-case) letter
    all_capitals = 64,       // two or more letters, some upper case, none lower case
    accented = 128,          // the key lost marks in folding: see `exact_key`
    ill_formed = 256,        // holds bytes that are not UTF-8
  };

  Span span;
  std::uint32_t key_begin = 0;        // into TokenizedText::keys
  std::uint32_t exact_begin = 0;      // the key with its accents, if accented
  std::uint16_t key_length = 0;
  std::uint16_t exact_length = 0;
  TokenKind kind = TokenKind::word;
  std::uint16_t flags = 0;

  bool is(Flag flag) const noexcept { return (flags & flag) != 0; }
};

// Reused from note to note: `tokenize` clears and refills it. Keys are not laid
// out in order: the first text.size() bytes are the text with ASCII made small,
// and the keys of words beyond ASCII follow.
struct TokenizedText {
  std::vector<Token> tokens;
  // Bytes that may be read past the end of any key, so that keys can be compared as numbers.
  static constexpr std::size_t key_padding = 16;
  std::string keys;
  std::vector<Span> ill_formed;   // each maximal ill-formed part
  std::uint32_t word_count = 0;      // tokens that are words
  std::uint32_t capital_count = 0;   // … that begin with a capital
  bool ascii = true;

  std::string_view key(const Token& token) const noexcept {
    return {keys.data() + token.key_begin, token.key_length};
  }
  std::string_view exact_key(const Token& token) const noexcept {
    return {keys.data() + token.exact_begin, token.exact_length};
  }
};

// One pass. Hyphens between two letters or digits are no token: they set
// `joined_before`. White space is no token, and nor are marks that show nothing
// (a byte order mark, a stray joiner). Everything else is in a token:
//   words, by the rules of word_breaks.hpp ("it's" is one, "12g" two);
//   numbers: "13.5", "13,5", "1,000" (and "2009,2010"); "13½" is "13" and a symbol "½";
//   punctuation, a token a character, any dash with the key "-";
//   symbols, a token each: "+", "½", one emoji however many code points it has, and
//   each ill-formed part, with the key U+FFFD.
// A key is fold() of the token, cut at 65,535 bytes.
// A single line break is a soft wrap, and sets no `line_before`, if the line before
// it has 40 code points or more, does not end in sentence punctuation or a colon,
// and a lower-case letter or a digit follows.
// The text must be shorter than 1 GiB. Allocates only to grow `out`, save for
// uncommon scripts and decomposed accents. Safe from any thread.
void tokenize(std::string_view text, TokenizedText& out);

}  // namespace racking::text
