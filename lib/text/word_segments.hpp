// The word-break rules: where a segment that begins at a boundary ends. No rule
// looks back beyond a boundary, so a segment needs nothing of the text before it.
#pragma once

#include <array>
#include <cstdint>
#include <string_view>

#include "text/characters.hpp"
#include "text/utf8.hpp"

namespace racking::text {

// How the ASCII scan sees a byte.
enum class ScanClass : std::uint8_t { mark, letter, digit, blank, line_break, beyond };

inline constexpr std::array<ScanClass, 256> scan_classes = [] {
  std::array<ScanClass, 256> table{};
  for (std::size_t at = 0; at < 256; ++at) {
    if (at >= 128) { table[at] = ScanClass::beyond; continue; }
    const Character c = ascii_characters[at];
    table[at] = c.word_class == WordClass::letter   ? ScanClass::letter
                : c.word_class == WordClass::number ? ScanClass::digit
                : c.is(Character::line_break)       ? ScanClass::line_break
                : c.is(Character::white_space)      ? ScanClass::blank
                                                    : ScanClass::mark;
  }
  return table;
}();

inline ScanClass scan_class(char byte) noexcept {
  return scan_classes[static_cast<unsigned char>(byte)];
}

// The end of a run of ASCII letters ("it's") or digits ("13.5", "1,000") that
// begins at `at`. The caller must look at the byte there: if it is beyond
// ASCII, the rules below have to decide.
inline std::uint32_t ascii_word_end(std::string_view text, std::uint32_t at) noexcept {
  const char* const bytes = text.data();
  const std::size_t size = text.size();
  std::size_t end = at + std::size_t{1};
  for (;;) {
    while (end < size && scan_class(bytes[end]) == ScanClass::letter) ++end;
    if (end + 1 < size && bytes[end] == '\'' && scan_class(bytes[end + 1]) == ScanClass::letter) {
      end += 2;
      continue;
    }
    // A mark or letter beyond ASCII after the apostrophe is for the rules too.
    if (end + 1 < size && bytes[end] == '\'' && scan_class(bytes[end + 1]) == ScanClass::beyond) {
      ++end;
    }
    return static_cast<std::uint32_t>(end);
  }
}

inline std::uint32_t ascii_number_end(std::string_view text, std::uint32_t at) noexcept {
  const char* const bytes = text.data();
  const std::size_t size = text.size();
  std::size_t end = at + std::size_t{1};
  for (;;) {
    while (end < size && scan_class(bytes[end]) == ScanClass::digit) ++end;
    const bool middle = end + 1 < size && (bytes[end] == '.' || bytes[end] == ',' || bytes[end] == '\'');
    if (middle && scan_class(bytes[end + 1]) == ScanClass::digit) {
      end += 2;
      continue;
    }
    if (middle && scan_class(bytes[end + 1]) == ScanClass::beyond) ++end;
    return static_cast<std::uint32_t>(end);
  }
}

// White space: spaces keep together (WB3d), any other stands by itself.
inline std::uint32_t ascii_blank_end(std::string_view text, std::uint32_t at) noexcept {
  std::uint32_t end = at + 1;
  while (text[at] == ' ' && end < text.size() && text[end] == ' ') ++end;
  return end;
}

inline bool stays_ascii(std::string_view text, std::uint32_t end) noexcept {
  return end >= text.size() || scan_class(text[end]) != ScanClass::beyond;
}

// The rules of UAX #29, section 4.1, as tailored, over any lookup of characters.
template <typename Lookup>
class SegmentRules {
 public:
  SegmentRules(std::string_view text, Lookup lookup) noexcept
      : text_(text), size_(static_cast<std::uint32_t>(text.size())), lookup_(lookup) {}

  std::uint32_t end_of(std::uint32_t begin) noexcept {
    Place place = at(begin);
    if (place.is(WordClass::carriage_return)) {                                   // WB3
      return place.end < size_ && text_[place.end] == '\n' ? place.end + 1 : place.end;
    }
    if (place.breaks_lines()) return place.end;                                   // WB3a
    WordClass raw = place.what.word_class;
    WordClass before = place.attaches() ? WordClass::other : raw;
    while (place.end < size_) {
      const Place next = at(place.end);
      if (next.breaks_lines()) break;                                             // WB3b
      if (raw == WordClass::joiner && next.what.is(Character::pictographic)) {    // WB3c
        before = next.what.word_class;
      } else if (raw == WordClass::space && next.is(WordClass::space)) {          // WB3d
        before = WordClass::space;
      } else if (!next.attaches()) {                                              // WB4
        const Step step = join(before, next);
        if (step.end == 0) break;
        before = step.before;
        place.end = step.end;
        raw = step.raw;
        continue;
      }
      place.end = next.end;
      raw = next.what.word_class;
    }
    return place.end;
  }

 private:
  struct Place {
    Character what;
    std::uint32_t end;

    bool is(WordClass word_class) const noexcept { return what.word_class == word_class; }
    bool is_letter() const noexcept { return is(WordClass::letter) || is(WordClass::hebrew_letter); }
    bool breaks_lines() const noexcept {
      return is(WordClass::carriage_return) || is(WordClass::line_feed) || is(WordClass::newline);
    }
    bool attaches() const noexcept {
      return is(WordClass::extend) || is(WordClass::format) || is(WordClass::joiner);
    }
  };
  struct Step {
    std::uint32_t end;      // 0: a boundary
    WordClass before;
    WordClass raw;
  };

  Place at(std::uint32_t offset) const noexcept {
    const Decoded decoded = decode(text_, offset);
    return {lookup_(decoded.code_point), offset + decoded.length};
  }

  // Whether `next` joins a segment whose last character (marks aside) is `before`.
  Step join(WordClass before, const Place& next) const noexcept {
    const WordClass what = next.what.word_class;
    const bool quote = what == WordClass::single_quote || what == WordClass::mid_both;
    const Step joined{next.end, what, what};
    switch (before) {
      case WordClass::letter:
      case WordClass::hebrew_letter:
        if (next.is_letter()) return joined;                                      // WB5
        if (quote || what == WordClass::mid_letter) {                             // WB6, WB7
          const Place after = past_marks(next);
          if (after.is_letter()) return {after.end, after.what.word_class, after.what.word_class};
        }
        if (before == WordClass::hebrew_letter) return join_hebrew(next);
        return {};
      case WordClass::number:
        if (what == WordClass::number) return joined;                             // WB8
        if (quote || what == WordClass::mid_number) {                             // WB11, WB12
          const Place after = past_marks(next);
          if (after.is(WordClass::number)) return {after.end, WordClass::number, WordClass::number};
        }
        return {};
      case WordClass::katakana:
        return what == WordClass::katakana ? joined : Step{};                     // WB13
      case WordClass::regional_indicator:                                         // WB15, WB16
        if (what == WordClass::regional_indicator) return {next.end, WordClass::other, what};
        return {};
      default: return {};
    }
  }

  Step join_hebrew(const Place& next) const noexcept {
    if (next.is(WordClass::single_quote)) {                                       // WB7a
      return {next.end, WordClass::other, WordClass::single_quote};
    }
    if (next.is(WordClass::double_quote)) {                                       // WB7b, WB7c
      const Place after = past_marks(next);
      if (after.is(WordClass::hebrew_letter)) {
        return {after.end, WordClass::hebrew_letter, WordClass::hebrew_letter};
      }
    }
    return {};
  }

  // The next character that is no attached mark; `other` at the end.
  Place past_marks(Place place) const noexcept {
    while (place.end < size_) {
      place = at(place.end);
      if (!place.attaches()) return place;
    }
    return {Character{}, place.end};
  }

  std::string_view text_;
  std::uint32_t size_;
  Lookup lookup_;
};

inline std::uint32_t segment_end(std::string_view text, std::uint32_t begin) noexcept {
  return SegmentRules(text, [](char32_t c) noexcept { return character(c); }).end_of(begin);
}

}  // namespace racking::text
