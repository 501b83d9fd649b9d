#include "text/characters.hpp"

#include <unicode/uchar.h>

namespace racking::text {
namespace {

bool is_colon(char32_t c) noexcept {
  return c == ':' || c == 0xFE13 || c == 0xFE55 || c == 0xFF1A;
}
bool is_semicolon(char32_t c) noexcept {
  return c == ';' || c == 0x037E || c == 0xFE14 || c == 0xFE54 || c == 0xFF1B;
}
bool is_full_stop(char32_t c) noexcept {
  return c == '.' || c == 0x2024 || c == 0xFE52 || c == 0xFF0E;
}

WordClass word_class_of(char32_t c) noexcept {
  if (is_colon(c) || is_semicolon(c)) return WordClass::other;
  if (is_full_stop(c)) return WordClass::mid_number;
  switch (u_getIntPropertyValue(static_cast<UChar32>(c), UCHAR_WORD_BREAK)) {
    case U_WB_ALETTER: return WordClass::letter;
    case U_WB_HEBREW_LETTER: return WordClass::hebrew_letter;
    case U_WB_NUMERIC: return WordClass::number;
    case U_WB_KATAKANA: return WordClass::katakana;
    case U_WB_CR: return WordClass::carriage_return;
    case U_WB_LF: return WordClass::line_feed;
    case U_WB_NEWLINE: return WordClass::newline;
    case U_WB_EXTEND: return WordClass::extend;
    case U_WB_FORMAT: return WordClass::format;
    case U_WB_ZWJ: return WordClass::joiner;
    case U_WB_WSEGSPACE: return WordClass::space;
    case U_WB_MIDLETTER: return WordClass::mid_letter;
    case U_WB_MIDNUM: return WordClass::mid_number;
    case U_WB_MIDNUMLET: return WordClass::mid_both;
    case U_WB_SINGLE_QUOTE: return WordClass::single_quote;
    case U_WB_DOUBLE_QUOTE: return WordClass::double_quote;
    case U_WB_REGIONAL_INDICATOR: return WordClass::regional_indicator;
    default: return WordClass::other;
  }
}

TokenKind kind_of(char32_t c, WordClass word_class, std::uint32_t category) noexcept {
  if (word_class == WordClass::number) return TokenKind::number;
  if (word_class == WordClass::letter || word_class == WordClass::hebrew_letter ||
      word_class == WordClass::katakana || (category & U_GC_L_MASK) != 0) {
    return TokenKind::word;
  }
  // The minus sign stands where people mean a dash.
  if ((category & U_GC_P_MASK) != 0 || c == 0x2212) return TokenKind::punctuation;
  return TokenKind::symbol;
}

std::uint16_t mark_flags(char32_t c, std::uint32_t category) noexcept {
  using C = Character;
  unsigned flags = 0;
  if (c == '\'' || c == '"' || (category & (U_GC_PI_MASK | U_GC_PF_MASK)) != 0) flags |= C::quote;
  // A low quotation mark (gc=Ps) closes in no language.
  if ((category & U_GC_PS_MASK) != 0 || c == 0xA1 || c == 0xBF) flags |= C::opener;
  if ((category & U_GC_PE_MASK) != 0) flags |= C::closer;
  if (c == 0x2026 || u_hasBinaryProperty(static_cast<UChar32>(c), UCHAR_S_TERM)) {
    flags |= C::terminator;
  }
  if (c == '-' || c == 0x2010 || c == 0x2011) flags |= C::hyphen;
  return static_cast<std::uint16_t>(flags);
}

// Latin-1 to Latin Extended-A, and General Punctuation: read once from ICU.
struct CommonCharacters {
  std::array<Character, 0x100> latin;   // from U+0080
  std::array<Character, 0x70> marks;    // from U+2000

  CommonCharacters() noexcept {
    for (std::size_t at = 0; at < latin.size(); ++at) {
      latin[at] = derive_character(static_cast<char32_t>(0x80 + at));
    }
    for (std::size_t at = 0; at < marks.size(); ++at) {
      marks[at] = derive_character(static_cast<char32_t>(0x2000 + at));
    }
  }
};

}  // namespace

Character derive_character(char32_t code_point) noexcept {
  using C = Character;
  const auto c = static_cast<UChar32>(code_point);
  const std::uint32_t category = U_MASK(u_charType(c));
  Character result;
  result.word_class = word_class_of(code_point);
  result.kind = kind_of(code_point, result.word_class, category);
  unsigned flags = mark_flags(code_point, category);
  if (u_hasBinaryProperty(c, UCHAR_EXTENDED_PICTOGRAPHIC)) flags |= C::pictographic;
  if (u_isUWhiteSpace(c) || c == 0x200B) flags |= C::white_space;
  if ((c >= 0x0A && c <= 0x0D) || c == 0x85 || c == 0x2028 || c == 0x2029) flags |= C::line_break;
  if (u_hasBinaryProperty(c, UCHAR_DEFAULT_IGNORABLE_CODE_POINT)) flags |= C::ignorable;
  if (u_isUUppercase(c) || (category & U_GC_LT_MASK) != 0) flags |= C::upper;
  if (u_isULowercase(c)) flags |= C::lower;
  if ((category & U_GC_L_MASK) != 0) flags |= C::letter;
  result.flags = static_cast<std::uint16_t>(flags);
  return result;
}

Character character_beyond_ascii(char32_t code_point) noexcept {
  static const CommonCharacters common;
  if (code_point - 0x80U < common.latin.size()) return common.latin[code_point - 0x80U];
  if (code_point - 0x2000U < common.marks.size()) return common.marks[code_point - 0x2000U];
  return derive_character(code_point);
}

}  // namespace racking::text
