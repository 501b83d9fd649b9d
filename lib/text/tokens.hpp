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
    sentence_start = 8,
    joined_before = 16,      // a hyphen, and nothing else, joins it to the token before
    capital = 32,            // begins with an upper-case letter
    all_capitals = 64,       // two or more letters, none of them lower case
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

// Reused from note to note: `tokenize` clears and refills it.
struct TokenizedText {
  std::vector<Token> tokens;
  std::string keys;
  std::vector<Span> ill_formed;   // each maximal ill-formed part
  bool ascii = true;

  std::string_view key(const Token& token) const noexcept {
    return std::string_view(keys).substr(token.key_begin, token.key_length);
  }
  std::string_view exact_key(const Token& token) const noexcept {
    return std::string_view(keys).substr(token.exact_begin, token.exact_length);
  }
};

// One pass. Hyphens between two letters or digits are no token: they set
// `joined_before`. White space is no token. Everything else is in a token.
void tokenize(std::string_view text, TokenizedText& out);

}  // namespace racking::text
