// What the scanner must know of each code point.
#pragma once

#include <array>
#include <cstdint>

#include "text/tokens.hpp"

namespace racking::text {

// Word_Break classes of UAX #29 as tailored here (see word_breaks.hpp). The
// connectors, colons and semicolons are `other`; full stops are `mid_number`.
enum class WordClass : std::uint8_t {
  other, letter, hebrew_letter, number, katakana, carriage_return, line_feed, newline,
  extend, format, joiner, space, mid_letter, mid_number, mid_both, single_quote,
  double_quote, regional_indicator,
};

struct Character {
  enum Flag : std::uint16_t {
    pictographic = 1,
    white_space = 2,      // line breaks too, and the zero-width space
    line_break = 4,
    ignorable = 8,        // shows nothing: soft hyphen, byte order mark, joiners
    upper = 16,           // title case too
    lower = 32,
    letter = 64,
    terminator = 128,     // ends a sentence
    opener = 256,
    closer = 512,
    quote = 1024,         // opens or closes, by where it stands
    hyphen = 2048,        // joins words
  };

  WordClass word_class = WordClass::other;
  TokenKind kind = TokenKind::symbol;   // of a token that begins so
  std::uint16_t flags = 0;

  constexpr bool is(unsigned flag) const noexcept { return (flags & flag) != 0; }
  friend constexpr bool operator==(Character, Character) noexcept = default;
};

// From the ICU properties; works for ASCII too, which tests use.
Character derive_character(char32_t code_point) noexcept;
// The same, quicker for what European text is made of. Not for ASCII.
Character character_beyond_ascii(char32_t code_point) noexcept;

constexpr Character make_ascii_character(char32_t c) noexcept {
  using C = Character;
  const auto mark = [](WordClass word_class, unsigned flags) {
    return C{word_class, TokenKind::punctuation, static_cast<std::uint16_t>(flags)};
  };
  const auto blank = [](WordClass word_class, unsigned flags) {
    return C{word_class, TokenKind::symbol, static_cast<std::uint16_t>(flags | C::white_space)};
  };
  if (c >= 'a' && c <= 'z') return {WordClass::letter, TokenKind::word, C::letter | C::lower};
  if (c >= 'A' && c <= 'Z') return {WordClass::letter, TokenKind::word, C::letter | C::upper};
  if (c >= '0' && c <= '9') return {WordClass::number, TokenKind::number, 0};
  switch (c) {
    case ' ': return blank(WordClass::space, 0);
    case '\t': return blank(WordClass::other, 0);
    case '\n': return blank(WordClass::line_feed, C::line_break);
    case '\v': case '\f': return blank(WordClass::newline, C::line_break);
    case '\r': return blank(WordClass::carriage_return, C::line_break);
    case '\'': return mark(WordClass::single_quote, C::quote);
    case '"': return mark(WordClass::double_quote, C::quote);
    case '.': return mark(WordClass::mid_number, C::terminator);
    case '!': case '?': return mark(WordClass::other, C::terminator);
    case ',': return mark(WordClass::mid_number, 0);
    case '-': return mark(WordClass::other, C::hyphen);
    case '(': case '[': case '{': return mark(WordClass::other, C::opener);
    case ')': case ']': case '}': return mark(WordClass::other, C::closer);
    case '#': case '%': case '&': case '*': case '/': case ':': case ';': case '@':
    case '\\': case '_': return mark(WordClass::other, 0);
    default: return {};
  }
}

inline constexpr std::array<Character, 128> ascii_characters = [] {
  std::array<Character, 128> table{};
  for (char32_t c = 0; c < 128; ++c) table[c] = make_ascii_character(c);
  return table;
}();

inline Character character(char32_t code_point) noexcept {
  return code_point < 128 ? ascii_characters[code_point] : character_beyond_ascii(code_point);
}

}  // namespace racking::text
