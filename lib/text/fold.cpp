#include "text/fold.hpp"

#include <array>
#include <cstdint>
#include <cstring>

#include <unicode/normalizer2.h>
#include <unicode/uchar.h>
#include <unicode/unistr.h>
#include <unicode/uscript.h>

#include "text/fold_keys.hpp"
#include "text/utf8.hpp"

namespace racking::text {
namespace {

// ICU's own, which it makes when first asked; null if it can't. Each is asked for once, in a way
// that a thread sanitizer can follow: it does not see the locks inside ICU.
const icu::Normalizer2* normaliser(bool composed) {
  UErrorCode status = U_ZERO_ERROR;
  if (composed) {
    static const icu::Normalizer2* const nfc = icu::Normalizer2::getNFCInstance(status);
    return nfc;
  }
  static const icu::Normalizer2* const nfd = icu::Normalizer2::getNFDInstance(status);
  return nfd;
}

icu::UnicodeString normalised(const icu::UnicodeString& text, bool composed) {
  UErrorCode status = U_ZERO_ERROR;
  const icu::Normalizer2* form = normaliser(composed);
  if (form == nullptr) return text;
  icu::UnicodeString result = form->normalize(text, status);
  return U_FAILURE(status) ? text : result;
}

// What stands for a typographic mark in keys: itself if it is none.
UChar32 plain_mark(UChar32 c) noexcept {
  if (c < 0x80) return c;
  if (c >= 0xFF01 && c <= 0xFF5E) return plain_mark(u_foldCase(c - 0xFEE0, U_FOLD_CASE_DEFAULT));
  switch (c) {
    case 0x2018: case 0x2019: case 0x201A: case 0x201B: case 0x2032: case 0x2039: case 0x203A:
    case 0x02BC:
      return '\'';
    case 0x201C: case 0x201D: case 0x201E: case 0x201F: case 0x2033: case 0xAB: case 0xBB:
      return '"';
    case 0x2010: case 0x2011: case 0x2012: case 0x2013: case 0x2014: case 0x2015: case 0x2212:
    case 0xFE58: case 0xFE63:
      return '-';
    default:
      return u_charType(c) == U_SPACE_SEPARATOR ? ' ' : c;
  }
}

// Letters that have no decomposition in Unicode and that people type in plain ones.
const char16_t* plain_letters(UChar32 c) noexcept {
  switch (c) {
    case 0x00E6: return u"ae";
    case 0x0153: return u"oe";
    case 0x00F8: return u"o";
    case 0x0142: return u"l";
    case 0x0111: case 0x00F0: return u"d";
    case 0x00FE: return u"th";
    case 0x0127: return u"h";
    case 0x0131: return u"i";
    case 0x0133: return u"ij";
    case 0x0167: return u"t";
    default: return nullptr;
  }
}

// A mark that may be left off: one that goes with letters of any script, so no
// vowel sign of an Indic script; and not the two that make Japanese syllables.
bool is_loose_mark(UChar32 c) noexcept {
  if ((U_GET_GC_MASK(c) & (U_GC_MN_MASK | U_GC_ME_MASK)) == 0) return false;
  if (c == 0x3099 || c == 0x309A) return false;
  UErrorCode status = U_ZERO_ERROR;
  return uscript_getScript(c, &status) == USCRIPT_INHERITED && U_SUCCESS(status);
}

icu::UnicodeString exact_form(std::string_view word) {
  icu::UnicodeString text = icu::UnicodeString::fromUTF8(
      icu::StringPiece(word.data(), static_cast<std::int32_t>(word.size())));
  text = normalised(text, false);
  text.foldCase(U_FOLD_CASE_DEFAULT);
  icu::UnicodeString plain;
  for (std::int32_t at = 0; at < text.length();) {
    const UChar32 c = text.char32At(at);
    at += U16_LENGTH(c);
    if (u_hasBinaryProperty(c, UCHAR_DEFAULT_IGNORABLE_CODE_POINT)) continue;
    if (c == 0x0140) {   // Catalan l with its dot, which others write apart
      plain.append(u"l\u00B7", 2);
    } else {
      plain.append(plain_mark(c));
    }
  }
  return normalised(plain, true);
}

icu::UnicodeString plain_form(const icu::UnicodeString& exact) {
  const icu::UnicodeString text = normalised(exact, false);
  icu::UnicodeString plain;
  bool on_letter = false;
  for (std::int32_t at = 0; at < text.length();) {
    const UChar32 c = text.char32At(at);
    at += U16_LENGTH(c);
    if (on_letter && is_loose_mark(c)) continue;
    if ((U_GET_GC_MASK(c) & U_GC_M_MASK) == 0) on_letter = u_isalnum(c) != 0;
    if (const char16_t* letters = plain_letters(c)) {
      plain.append(letters, -1);
    } else {
      plain.append(c);
    }
  }
  return normalised(plain, true);
}

constexpr char ascii_lower(char c) noexcept {
  return c >= 'A' && c <= 'Z' ? static_cast<char>(c + ('a' - 'A')) : c;
}

// Both folds of one code point that meets no combining mark.
struct FoldedCharacter {
  static constexpr std::uint8_t unknown = 0xFF;
  std::array<char, 4> plain{};
  std::array<char, 4> exact{};
  std::uint8_t plain_length = unknown;
  std::uint8_t exact_length = unknown;
};

// Latin-1, Latin Extended-A and General Punctuation: no combining mark among
// them, so the fold of such a word is that of its characters, one by one.
class CommonFolds {
 public:
  CommonFolds() {
    for (std::size_t at = 0; at < latin_.size(); ++at) {
      fill(latin_[at], static_cast<char32_t>(0x80 + at));
    }
    for (std::size_t at = 0; at < marks_.size(); ++at) {
      fill(marks_[at], static_cast<char32_t>(0x2000 + at));
    }
  }

  const FoldedCharacter* find(char32_t c) const noexcept {
    const FoldedCharacter* found = nullptr;
    if (c - 0x80U < latin_.size()) found = &latin_[c - 0x80U];
    if (c - 0x2000U < marks_.size()) found = &marks_[c - 0x2000U];
    return found == nullptr || found->plain_length == FoldedCharacter::unknown ? nullptr : found;
  }

 private:
  static void fill(FoldedCharacter& entry, char32_t c) {
    std::string source;
    append(source, c);
    const icu::UnicodeString exact_text = exact_form(source);
    std::string exact;
    std::string plain;
    exact_text.toUTF8String(exact);
    plain_form(exact_text).toUTF8String(plain);
    if (exact.size() > entry.exact.size() || plain.size() > entry.plain.size()) return;
    std::memcpy(entry.exact.data(), exact.data(), exact.size());
    std::memcpy(entry.plain.data(), plain.data(), plain.size());
    entry.exact_length = static_cast<std::uint8_t>(exact.size());
    entry.plain_length = static_cast<std::uint8_t>(plain.size());
  }

  std::array<FoldedCharacter, 0x100> latin_;
  std::array<FoldedCharacter, 0x70> marks_;
};

const CommonFolds& common_folds() {
  static const CommonFolds folds;
  return folds;
}

enum class Common : std::uint8_t { no, alike, different };

// Appends one of the folds; `no` if the word holds anything uncommon.
Common append_common(std::string_view word, bool exact, std::string& out) {
  const CommonFolds& folds = common_folds();
  bool different = false;
  const auto size = static_cast<std::uint32_t>(word.size());
  for (std::uint32_t at = 0; at < size;) {
    if (static_cast<unsigned char>(word[at]) < 0x80) {
      out.push_back(ascii_lower(word[at++]));
      continue;
    }
    const Decoded decoded = decode(word, at);
    const FoldedCharacter* folded = decoded.well_formed ? folds.find(decoded.code_point) : nullptr;
    if (folded == nullptr) return Common::no;
    const std::string_view plain(folded->plain.data(), folded->plain_length);
    const std::string_view marked(folded->exact.data(), folded->exact_length);
    out.append(exact ? marked : plain);
    different = different || plain != marked;
    at += decoded.length;
  }
  return different ? Common::different : Common::alike;
}

KeyLengths append_uncommon_keys(std::string_view word, std::string& out) {
  const std::size_t start = out.size();
  const icu::UnicodeString exact = exact_form(word);
  const icu::UnicodeString plain = plain_form(exact);
  plain.toUTF8String(out);
  const std::size_t middle = out.size();
  if (plain != exact) exact.toUTF8String(out);
  return {middle - start, out.size() - middle};
}

}  // namespace

KeyLengths append_keys(std::string_view word, std::string& out) {
  const std::size_t start = out.size();
  const Common common = append_common(word, false, out);
  if (common == Common::no) {
    out.resize(start);
    return append_uncommon_keys(word, out);
  }
  const std::size_t middle = out.size();
  if (common == Common::different) append_common(word, true, out);
  return {middle - start, out.size() - middle};
}

void copy_ascii_lower(std::string_view text, char* out) noexcept {
  constexpr std::uint64_t ones = 0x0101010101010101U;
  std::size_t at = 0;
  for (; at + 8 <= text.size(); at += 8) {
    std::uint64_t block = 0;
    std::memcpy(&block, text.data() + at, 8);
    const std::uint64_t low = block & (ones * 0x7F);
    const std::uint64_t from_a = low + ones * (0x80 - 'A');
    const std::uint64_t beyond_z = low + ones * (0x7F - 'Z');
    const std::uint64_t capitals = (from_a ^ beyond_z) & ~block & (ones * 0x80);
    block |= capitals >> 2;
    std::memcpy(out + at, &block, 8);
  }
  for (; at < text.size(); ++at) out[at] = ascii_lower(text[at]);
}

std::string fold_exact(std::string_view word) {
  std::string result(word.size(), '\0');
  if (is_ascii(word)) {
    copy_ascii_lower(word, result.data());
    return result;
  }
  result.clear();
  if (append_common(word, true, result) != Common::no) return result;
  result.clear();
  exact_form(word).toUTF8String(result);
  return result;
}

std::string fold(std::string_view word) {
  std::string result(word.size(), '\0');
  if (is_ascii(word)) {
    copy_ascii_lower(word, result.data());
    return result;
  }
  result.clear();
  result.resize(append_keys(word, result).plain);
  return result;
}

std::string to_nfc(std::string_view text) {
  if (is_nfc(text)) return std::string(text);
  std::string result;
  normalised(icu::UnicodeString::fromUTF8(
                 icu::StringPiece(text.data(), static_cast<std::int32_t>(text.size()))), true)
      .toUTF8String(result);
  return result;
}

bool is_nfc(std::string_view text) {
  if (is_ascii(text)) return true;
  const auto size = static_cast<std::uint32_t>(text.size());
  for (std::uint32_t at = 0; at < size;) {
    const Decoded decoded = decode(text, at);
    if (!decoded.well_formed) return false;
    at += decoded.length;
  }
  UErrorCode status = U_ZERO_ERROR;
  const icu::Normalizer2* composed = normaliser(true);
  if (composed == nullptr) return false;
  const bool result = composed->isNormalizedUTF8(
      icu::StringPiece(text.data(), static_cast<std::int32_t>(text.size())), status) != 0;
  return U_SUCCESS(status) && result;
}

}  // namespace racking::text
