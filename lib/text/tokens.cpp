#include "text/tokens.hpp"

#include <algorithm>
#include <bit>
#include <cstring>
#include <limits>

#include "text/fold_keys.hpp"
#include "text/utf8.hpp"
#include "text/word_segments.hpp"

namespace racking::text {
namespace {

constexpr std::uint32_t wrapped_line_length = 40;   // code points
constexpr std::size_t longest_key = std::numeric_limits<std::uint16_t>::max();

// The length of a key, cut between code points if it is too long.
std::uint16_t key_length_of(std::string_view key) noexcept {
  std::size_t length = key.size();
  if (length > longest_key) {
    length = longest_key;
    while (length > 0 && (static_cast<unsigned char>(key[length]) & 0xC0U) == 0x80U) --length;
  }
  return static_cast<std::uint16_t>(length);
}

class Tokenizer {
 public:
  Tokenizer(std::string_view text, TokenizedText& out) noexcept
      : text_(text), size_(static_cast<std::uint32_t>(text.size())), out_(out) {}

  void run() {
    out_.tokens.clear();
    out_.ill_formed.clear();
    out_.word_count = out_.capital_count = 0;
    out_.ascii = is_ascii(text_);
    out_.keys.assign(size_ + TokenizedText::key_padding, '\0');
    copy_ascii_lower(text_, out_.keys.data());
    while (at_ < size_) {
      switch (scan_class(text_[at_])) {
        case ScanClass::letter: ascii_word(); break;
        case ScanClass::digit: ascii_number(); break;
        case ScanClass::blank: pending_ |= Token::space_before; ++at_; continue;
        case ScanClass::line_break: line_break(1); continue;
        case ScanClass::mark: ascii_mark(); break;
        case ScanClass::beyond: segment(); break;
      }
      // The blank that mostly follows is not worth another turn.
      if (at_ < size_ && text_[at_] == ' ') {
        pending_ |= Token::space_before;
        ++at_;
      }
    }
    out_.keys.append(TokenizedText::key_padding, '\0');
  }

 private:
  Character ascii_at(std::uint32_t at) const noexcept {
    return ascii_characters[static_cast<unsigned char>(text_[at])];
  }

  // The end of the letters from `at_` on, eight at a time. The keys hold them made small, and
  // zeros behind the text's end.
  std::uint32_t letters_end() const noexcept {
    constexpr std::uint64_t ones = 0x0101010101010101U;
    for (std::uint32_t at = at_;; at += 8) {
      std::uint64_t block = 0;
      std::memcpy(&block, out_.keys.data() + at, sizeof block);
      const std::uint64_t low = block & (ones * 0x7F);
      const std::uint64_t from_a = low + ones * (0x80 - 'a'), beyond_z = low + ones * (0x7F - 'z');
      const std::uint64_t letters = (from_a ^ beyond_z) & ~block & (ones * 0x80);
      const std::uint64_t others = letters ^ (ones * 0x80);
      if (others != 0) return at + static_cast<std::uint32_t>(std::countr_zero(others)) / 8;
    }
  }

  void ascii_word() {
    std::uint32_t end = letters_end();
    if (end < size_ && text_[end] == '\'') end = ascii_word_end(text_, at_);
    if (!stays_ascii(text_, end)) return segment();
    add_ascii_word(end);
  }

  void add_ascii_word(std::uint32_t end) {
    const Character first = ascii_at(at_);
    unsigned flags = 0;
    if (first.is(Character::upper)) {
      flags = Token::capital;
      if (all_capitals(end)) flags |= Token::all_capitals;
    }
    add_ascii(first, end, flags);
  }

  bool all_capitals(std::uint32_t end) const noexcept {
    std::uint32_t letters = 0;
    for (std::uint32_t at = at_; at < end; ++at) {
      const Character c = ascii_at(at);
      if (c.is(Character::lower)) return false;
      letters += c.is(Character::letter) ? 1U : 0U;
    }
    return letters >= 2;
  }

  void ascii_number() {
    const std::uint32_t end = ascii_number_end(text_, at_);
    if (!stays_ascii(text_, end)) return segment();
    add_ascii(ascii_at(at_), end, 0);
  }

  void ascii_mark() {
    const std::uint32_t end = at_ + 1;
    if (!stays_ascii(text_, end)) return segment();
    const Character first = ascii_at(at_);
    if (first.is(Character::hyphen) && joins(end)) return skip_hyphen(end);
    add_ascii(first, end, 0);
    after_mark(first);
  }

  // A segment that the rules must judge: it holds, or stops at, a byte beyond ASCII.
  void segment() {
    const Decoded decoded = decode(text_, at_);
    const Character first = character(decoded.code_point);
    const std::uint32_t next = at_ + decoded.length;
    if (first.is(Character::line_break)) return line_break(decoded.length);
    if (first.is(Character::white_space)) {
      pending_ |= Token::space_before;
      at_ = next;
      return;
    }
    if (first.is(Character::ignorable)) {
      at_ = next;
      return;
    }
    const std::uint32_t end = segment_end(text_, at_);
    if (is_ascii(text_.substr(at_, end - at_))) return ascii_segment(first, end);
    if (first.is(Character::hyphen) && shows_nothing(next, end) && joins(end)) {
      return skip_hyphen(end);
    }
    add_beyond_ascii(first, end, decoded.well_formed ? letter_flags(first, end) : ill_formed(next));
    if (first.kind == TokenKind::punctuation) after_mark(first);
  }

  void ascii_segment(Character first, std::uint32_t end) {
    if (first.kind == TokenKind::word) return add_ascii_word(end);
    if (first.is(Character::hyphen) && joins(end)) return skip_hyphen(end);
    add_ascii(first, end, 0);
    after_mark(first);
  }

  unsigned ill_formed(std::uint32_t end) {
    out_.ill_formed.push_back({at_, end});
    return Token::ill_formed;
  }

  unsigned letter_flags(Character first, std::uint32_t end) const noexcept {
    std::uint32_t letters = 0;
    bool upper = false;
    bool lower = false;
    for (std::uint32_t at = at_; at < end;) {
      const Decoded decoded = decode(text_, at);
      const Character c = character(decoded.code_point);
      letters += c.is(Character::letter) ? 1U : 0U;
      upper = upper || c.is(Character::upper);
      lower = lower || c.is(Character::lower);
      at += decoded.length;
    }
    unsigned flags = first.is(Character::upper) ? unsigned{Token::capital} : 0U;
    if (letters >= 2 && upper && !lower) flags |= Token::all_capitals;
    return flags;
  }

  bool shows_nothing(std::uint32_t begin, std::uint32_t end) const noexcept {
    while (begin < end) {
      const Decoded decoded = decode(text_, begin);
      if (!character(decoded.code_point).is(Character::ignorable)) return false;
      begin += decoded.length;
    }
    return true;
  }

  // Whether a hyphen from here to `end` stands between two letters or digits.
  bool joins(std::uint32_t end) const noexcept {
    if (end >= size_ || out_.tokens.empty() || (pending_ & Token::joined_before) != 0) return false;
    const Token& last = out_.tokens.back();
    if (last.span.end != at_ || !is_word_or_number(last.kind)) return false;
    return is_word_or_number(character(decode(text_, end).code_point).kind);
  }
  static bool is_word_or_number(TokenKind kind) noexcept {
    return kind == TokenKind::word || kind == TokenKind::number;
  }

  void skip_hyphen(std::uint32_t end) noexcept {
    pending_ |= Token::joined_before;
    at_ = end;
  }

  void add_ascii(Character first, std::uint32_t end, unsigned flags) {
    Token& token = add(first, end, flags);
    token.key_begin = token.span.begin;
    token.key_length = static_cast<std::uint16_t>(std::min<std::size_t>(token.span.size(), longest_key));
  }

  void add_beyond_ascii(Character first, std::uint32_t end, unsigned flags) {
    const std::string_view word = text_.substr(at_, end - at_);
    Token& token = add(first, end, flags);
    const std::size_t begin = out_.keys.size();
    const KeyLengths lengths = append_keys(word, out_.keys);
    const std::string_view keys(out_.keys);
    token.key_begin = static_cast<std::uint32_t>(begin);
    token.key_length = key_length_of(keys.substr(begin, lengths.plain));
    if (lengths.exact == 0) return;
    token.exact_begin = static_cast<std::uint32_t>(begin + lengths.plain);
    token.exact_length = key_length_of(keys.substr(begin + lengths.plain, lengths.exact));
    token.flags |= Token::accented;
  }

  Token& add(Character first, std::uint32_t end, unsigned flags) {
    flags |= pending_;
    pending_ = 0;
    if (unsettled_) flags = settle(first, flags);
    Token& token = out_.tokens.emplace_back();
    token.span = {at_, end};
    token.kind = first.kind;
    token.flags = static_cast<std::uint16_t>(flags);
    out_.word_count += first.kind == TokenKind::word ? 1U : 0U;
    out_.capital_count += (flags & Token::capital) != 0 ? 1U : 0U;
    at_ = end;
    return token;
  }

  // Line breaks and sentence ends before this token: adds the flags they give it.
  unsigned settle(Character first, unsigned flags) noexcept {
    const bool lower = first.is(Character::lower);
    if (breaks_ > 0) {
      const bool runs_on = lower || first.kind == TokenKind::number;
      if (breaks_ > 1 || !wraps_ || !runs_on) flags |= Token::line_before;
      if (breaks_ > 1) flags |= Token::blank_line_before;
      breaks_ = 0;
    }
    const bool spaced = (flags & Token::space_before) != 0;
    const bool opens = first.is(Character::opener) || (first.is(Character::quote) && spaced);
    // More stops, and what closes around them, belong to the sentence before.
    const bool trails = first.is(Character::terminator | Character::closer);
    if (out_.tokens.empty() || (flags & Token::line_before) != 0) {
      flags |= Token::sentence_start;
    } else if (held_ != 0) {
      if (opens && !spaced) return flags;
      if (!lower && !trails) out_.tokens[held_ - 1].flags |= Token::sentence_start;
    } else if (stopped_ && spaced && !trails) {
      if (opens) {   // a sentence or an aside: what follows will tell
        held_ = out_.tokens.size() + 1;
        stopped_ = false;
        return flags;
      }
      if (!lower) flags |= Token::sentence_start;
    } else if (stopped_ && !spaced && first.is(Character::closer | Character::quote)) {
      held_ = 0;
      return flags;
    }
    held_ = 0;
    stopped_ = false;
    unsettled_ = false;
    return flags;
  }

  void after_mark(Character mark) noexcept {
    if (mark.is(Character::terminator)) {
      stopped_ = true;
      unsettled_ = true;
    }
  }

  void line_break(std::uint32_t length) {
    if (breaks_ == 0) wraps_ = line_wraps();
    ++breaks_;
    unsettled_ = true;
    pending_ |= Token::space_before;
    at_ = text_.substr(at_, 2) == "\r\n" ? at_ + 2 : at_ + length;
    line_start_ = at_;
  }

  // Whether the line that ends here may run on in the next.
  bool line_wraps() const noexcept {
    if (out_.tokens.empty() || stopped_) return false;
    const Token& last = out_.tokens.back();
    if (last.span.begin < line_start_ || out_.key(last) == ":") return false;
    std::uint32_t code_points = 0;
    for (std::uint32_t at = line_start_; at < last.span.end && code_points < wrapped_line_length;) {
      at += decode(text_, at).length;
      ++code_points;
    }
    return code_points >= wrapped_line_length;
  }

  std::string_view text_;
  std::uint32_t size_;
  TokenizedText& out_;
  std::uint32_t at_ = 0;
  std::uint32_t line_start_ = 0;
  std::uint32_t breaks_ = 0;       // since the last token
  std::size_t held_ = 0;           // 1 + the opening mark that may begin a sentence
  unsigned pending_ = 0;           // flags for the next token
  bool unsettled_ = true;          // something below or above waits for the next token
  bool stopped_ = false;           // a sentence ended, closing marks included
  bool wraps_ = false;             // the line before the breaks may run on
};

}  // namespace

void tokenize(std::string_view text, TokenizedText& out) { Tokenizer(text, out).run(); }

}  // namespace racking::text
