#include "match/number_words.hpp"

#include <algorithm>

namespace racking::match {

using lexicon::NumberRecord;
using lexicon::NumberRole;
using lexicon::WordId;
using text::Token;
using text::TokenKind;

namespace {

constexpr std::int64_t one = 1000;             // in thousandths
constexpr std::int64_t ten = 10 * one;
constexpr std::int64_t most = 10'000 * one;    // larger ones measure nothing of a wine

std::string figures(std::int64_t thousandths) {
  std::string out = std::to_string(thousandths / one);
  std::int64_t rest = thousandths % one;
  if (rest == 0) return out;
  std::string digits = std::to_string(one + rest).substr(1);
  digits.erase(digits.find_last_not_of('0') + 1);
  return out + '.' + digits;
}

}  // namespace

NumberWords::NumberWords(const lexicon::CompiledLexicon& lexicon)
    : bits_((lexicon.words.size() + 63) / 64),
      records_(lexicon.numbers.begin(), lexicon.numbers.end()) {
  std::sort(records_.begin(), records_.end(),
            [](const NumberRecord& a, const NumberRecord& b) { return a.word < b.word; });
  for (const NumberRecord& record : records_) {
    const auto role = static_cast<NumberRole>(record.role);
    if (role != NumberRole::joint && role != NumberRole::point && role != NumberRole::measured)
      bits_[record.word >> 6] |= std::uint64_t{1} << (record.word & 63);
  }
}

const NumberRecord* NumberWords::find(WordId word) const noexcept {
  const auto at = std::lower_bound(records_.begin(), records_.end(), word,
                                   [](const NumberRecord& a, WordId w) { return a.word < w; });
  return at != records_.end() && at->word == word ? &*at : nullptr;
}

// Reads the longest number that begins at a token.
class NumberWords::Parser {
 public:
  Parser(const NumberWords& numbers, const text::TokenizedText& tokens,
         const std::vector<KnownWord>& known)
      : numbers_(numbers), tokens_(tokens), known_(known) {}

  std::optional<Number> read(std::uint32_t t) {
    at_ = t;
    total_ = 0;
    if (tokens_.tokens[t].kind == TokenKind::number) return after_figures();
    switch (role(t)) {
      case NumberRole::article: return after_article();
      case NumberRole::part: return after_part();
      case NumberRole::count: case NumberRole::hundred: return words_of_number();
      default: return std::nullopt;
    }
  }

  bool measured(std::uint32_t t) const { return is(t, NumberRole::measured); }
  bool begins_number(std::uint32_t t) const {
    return t < known_.size() &&
           (tokens_.tokens[t].kind == TokenKind::number || numbers_.has(known_[t].id));
  }

 private:
  // A sentence ends a number.
  const NumberRecord* record(std::uint32_t t) const {
    constexpr std::uint16_t breaks = Token::line_before | Token::sentence_start;
    if (t >= known_.size() || known_[t].id == 0) return nullptr;
    if (t > at_ && (tokens_.tokens[t].flags & breaks) != 0) return nullptr;
    return numbers_.find(known_[t].id);
  }
  NumberRole role(std::uint32_t t) const {
    const NumberRecord* found = record(t);
    return found == nullptr ? NumberRole::measured : static_cast<NumberRole>(found->role);
  }
  bool is(std::uint32_t t, NumberRole wanted) const {
    const NumberRecord* found = record(t);
    return found != nullptr && static_cast<NumberRole>(found->role) == wanted;
  }
  std::int64_t value(std::uint32_t t) const { return record(t)->value; }
  std::optional<Number> done(std::uint32_t last) const {
    if (total_ <= 0 || total_ > most) return std::nullopt;
    return Number{total_, last, true};
  }

  // "13½", "13 and a half"; figures alone are none of ours.
  std::optional<Number> after_figures() {
    const std::string_view digits = tokens_.key(tokens_.tokens[at_]);
    if (digits.size() > 4 || digits.find_first_not_of("0123456789") != std::string_view::npos)
      return std::nullopt;
    for (const char c : digits) total_ = total_ * 10 + (c - '0');
    total_ *= one;
    const std::uint32_t next = at_ + 1;
    if (next < tokens_.tokens.size() && tokens_.tokens[next].kind == TokenKind::symbol &&
        is(next, NumberRole::part)) {
      total_ += value(next);
      return done(next + 1);
    }
    const std::uint32_t last = and_a_part(next);
    return last == next ? std::nullopt : done(last);
  }

  // "a hundred", "a half", "an inch".
  std::optional<Number> after_article() {
    const std::uint32_t next = at_ + 1;
    if (is(next, NumberRole::hundred)) return words_of_number(next);
    if (is(next, NumberRole::part)) {
      total_ = value(next);
      return done(next + 1);
    }
    if (!is(next, NumberRole::measured)) return std::nullopt;
    total_ = value(at_);
    return done(next);
  }

  // "half an inch", "half a dozen", "half inch".
  std::optional<Number> after_part() {
    total_ = value(at_);
    std::uint32_t next = at_ + 1;
    if (is(next, NumberRole::article)) ++next;
    if (is(next, NumberRole::hundred)) total_ = total_ * value(next++) / one;
    return done(next);
  }

  // "twenty-five", "a hundred and twenty", "thirteen point five", "two and a half", "three quarters".
  std::optional<Number> words_of_number() { return words_of_number(at_); }
  std::optional<Number> words_of_number(std::uint32_t t) {
    std::int64_t last_count = 0;
    std::uint32_t start = t;
    for (;;) {
      if (is(t, NumberRole::count)) {
        const bool goes_on = last_count == 0 || (last_count >= 2 * ten && value(t) < ten);
        if (!goes_on) break;
        total_ += last_count = value(t);
      } else if (is(t, NumberRole::hundred)) {
        total_ = std::max(total_, one) * value(t) / one;
        if (total_ > most) return std::nullopt;
        last_count = 0;
      } else if (t > start && total_ >= 100 * one && is(t, NumberRole::joint) &&
                 is(t + 1, NumberRole::count)) {
        last_count = 0;
      } else {
        break;
      }
      ++t;
    }
    if (is(t, NumberRole::point) && is(t + 1, NumberRole::count) && value(t + 1) < ten) return decimals(t + 1);
    if (is(t, NumberRole::part) && total_ < ten) {
      total_ = total_ * value(t) / one;
      return done(t + 1);
    }
    return done(and_a_part(t));
  }

  std::optional<Number> decimals(std::uint32_t t) {
    std::int64_t place = one / 10;
    for (; place > 0 && is(t, NumberRole::count) && value(t) < ten; ++t, place /= 10)
      total_ += value(t) / one * place;
    return done(t);
  }

  // Adds "and a half"; where the number ends.
  std::uint32_t and_a_part(std::uint32_t t) {
    if (!is(t, NumberRole::joint)) return t;
    const std::uint32_t part = is(t + 1, NumberRole::article) ? t + 2 : t + 1;
    if (!is(part, NumberRole::part)) return t;
    total_ += value(part);
    return part + 1;
  }

  const NumberWords& numbers_;
  const text::TokenizedText& tokens_;
  const std::vector<KnownWord>& known_;
  std::uint32_t at_ = 0;
  std::int64_t total_ = 0;
};

std::optional<Rewritten> NumberWords::rewrite(std::string_view text,
                                              const text::TokenizedText& tokens,
                                              const std::vector<KnownWord>& known,
                                              std::uint32_t from, std::uint32_t t,
                                              std::uint32_t to) const {
  Parser parser(*this, tokens, known);
  const auto first = parser.read(t);
  if (!first) return std::nullopt;
  const bool figure = tokens.tokens[t].kind == TokenKind::number;
  // "ten to twelve months": a joining word, another number, and then the measure.
  bool follows = figure || parser.measured(first->last);
  if (!follows && parser.begins_number(first->last + 1)) {
    const auto second = parser.read(first->last + 1);
    const std::uint32_t after = second ? second->last : first->last + 2;
    follows = parser.measured(after);
  }
  if (!follows) return std::nullopt;

  Rewritten out;
  const auto& all = tokens.tokens;
  to = std::min(std::max(to, first->last), static_cast<std::uint32_t>(all.size()));
  std::uint32_t copied = all[from].span.begin;
  const auto add = [&](std::string_view words_now, std::uint32_t begin, std::uint32_t end) {
    out.text.append(text, copied, all[begin].span.begin - copied);
    const auto at = static_cast<std::uint32_t>(out.text.size());
    out.text += words_now;
    out.pieces.push_back({at, static_cast<std::uint32_t>(out.text.size()), begin, end});
    copied = all[end - 1].span.end;
  };
  for (std::uint32_t i = from; i < to;) {
    const auto number = i == t                               ? first
                        : i > t && parser.begins_number(i) ? parser.read(i)
                                                             : std::nullopt;
    if (number) {
      add(figures(number->thousandths), i, number->last);
      i = number->last;
    } else {
      add(text.substr(all[i].span.begin, all[i].span.size()), i, i + 1);
      ++i;
    }
  }
  return out;
}

}  // namespace racking::match
