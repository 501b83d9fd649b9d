#include "match/quantities.hpp"

#include <re2/re2.h>
#include <re2/set.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <optional>
#include <string>

#include "racking/error.hpp"

namespace racking::match {

using lexicon::MeasureRecord;
using text::Token;
using text::TokenKind;

namespace {

constexpr std::uint32_t words_before = 4;    // "total acidity (tartaric): 6.2"
constexpr std::uint32_t tokens_after = 8;

// One compiled measure, and which of its groups hold what.
struct Pattern {
  const MeasureRecord* record;
  std::unique_ptr<RE2> regex;
  int value = 0, low = 0, high = 0, out_of = 0, of = 0;
  int groups = 0;
};

std::optional<double> number(std::string_view digits) {
  std::string plain;
  const std::size_t comma = digits.find(',');
  for (std::size_t i = 0; i < digits.size(); ++i) {
    const char c = digits[i];
    if (c == ' ') continue;
    if (c == ',') {
      // A comma before exactly three digits parts thousands, else it is the decimal mark.
      const bool thousands = i == comma && digits.size() - i == 4 && i > 0 && digits[0] != '0';
      if (!thousands) plain += '.';
      continue;
    }
    plain += c;
  }
  double value = 0;
  const auto [end, error] = std::from_chars(plain.data(), plain.data() + plain.size(), value);
  if (error != std::errc{} || end != plain.data() + plain.size()) return std::nullopt;
  return value;
}

}  // namespace

struct QuantityFinder::Patterns {
  const lexicon::CompiledLexicon& lexicon;
  std::vector<Pattern> all;
  RE2::Set which;              // one pass tells which of them a window holds
};

namespace {

RE2::Options pattern_options() {
  RE2::Options options(RE2::Quiet);
  options.set_case_sensitive(false);
  return options;
}

}  // namespace

QuantityFinder::QuantityFinder(const lexicon::CompiledLexicon& lexicon)
    : patterns_(new Patterns{lexicon, {}, RE2::Set(pattern_options(), RE2::UNANCHORED)}) {
  const RE2::Options options = pattern_options();
  for (const MeasureRecord& record : lexicon.measures) {
    Pattern pattern;
    pattern.record = &record;
    const std::string_view source = lexicon.string(record.pattern);
    pattern.regex =
        std::make_unique<RE2>(re2::StringPiece(source.data(), source.size()), options);
    if (!pattern.regex->ok())
      throw Error(ErrorCode::lexicon_invalid,
                  "measure '" + std::string(lexicon.string(record.id)) +
                      "': " + pattern.regex->error());
    pattern.groups = pattern.regex->NumberOfCapturingGroups();
    for (const auto& [name, index] : pattern.regex->NamedCapturingGroups()) {
      if (name == "value") pattern.value = index;
      if (name == "low") pattern.low = index;
      if (name == "high") pattern.high = index;
      if (name == "out_of") pattern.out_of = index;
      if (name == "of") pattern.of = index;
    }
    patterns_->which.Add(re2::StringPiece(source.data(), source.size()), nullptr);
    patterns_->all.push_back(std::move(pattern));
  }
  patterns_->which.Compile();
}

QuantityFinder::QuantityFinder(QuantityFinder&&) noexcept = default;
QuantityFinder::~QuantityFinder() = default;

namespace {

std::optional<Quantity> measured(const Pattern& pattern, const lexicon::CompiledLexicon& lexicon,
                                 const re2::StringPiece* groups) {
  const MeasureRecord& record = *pattern.record;
  const auto group = [&](int index) -> std::optional<double> {
    if (index == 0 || groups[index].empty()) return std::nullopt;
    const auto value = number({groups[index].data(), groups[index].size()});
    if (!value) return std::nullopt;
    return *value * (record.factor == 0 ? 1.0 : record.factor);
  };
  Quantity quantity;
  quantity.kind = static_cast<QuantityKind>(record.kind);
  if (record.frame != lexicon::unset) quantity.frame = static_cast<Frame>(record.frame);
  quantity.unit = lexicon.string(record.unit);
  quantity.value = group(pattern.value);
  quantity.low = group(pattern.low);
  quantity.high = group(pattern.high);
  quantity.out_of = group(pattern.out_of);
  if (!quantity.out_of && record.out_of != 0) quantity.out_of = record.out_of;
  if (pattern.of != 0 && !groups[pattern.of].empty())
    quantity.of = std::string(groups[pattern.of].data(), groups[pattern.of].size());
  const auto outside = [&](std::optional<double> value) {
    return value && (*value < record.least || (record.most != 0 && *value > record.most));
  };
  if (outside(quantity.value) || outside(quantity.low) || outside(quantity.high))
    return std::nullopt;
  if (!quantity.value && !quantity.low && !quantity.high) return std::nullopt;
  if (quantity.out_of && quantity.value && *quantity.value > *quantity.out_of) return std::nullopt;
  return quantity;
}

// The patterns that a window holds a match of, in their order; all of them if the set's
// automaton ran out of memory, which it reports as no match.
template <class Patterns>
std::vector<int> candidates(const Patterns& patterns, re2::StringPiece window) {
  std::vector<int> found;
  RE2::Set::ErrorInfo error{};
  if (!patterns.which.Match(window, &found, &error) && error.kind != RE2::Set::kNoError) {
    for (int i = 0; i < static_cast<int>(patterns.all.size()); ++i) found.push_back(i);
    return found;
  }
  std::sort(found.begin(), found.end());
  return found;
}

// The token that starts at byte `offset`, or covers it.
std::uint32_t token_at(const text::TokenizedText& tokens, std::uint32_t offset) {
  const auto it = std::partition_point(tokens.tokens.begin(), tokens.tokens.end(),
                                       [&](const Token& t) { return t.span.end <= offset; });
  return static_cast<std::uint32_t>(it - tokens.tokens.begin());
}

}  // namespace

namespace {

constexpr std::array first_centuries = {"19", "20"};

bool is_year(std::string_view text, const Token& token) {
  if (token.kind != TokenKind::number || token.span.size() != 4) return false;
  const std::string_view digits = text.substr(token.span.begin, 4);
  return std::any_of(first_centuries.begin(), first_centuries.end(),
                     [&](std::string_view century) { return digits.starts_with(century); }) &&
         digits.find_first_not_of("0123456789") == std::string_view::npos;
}

double year_of(std::string_view text, const Token& token) {
  double year = 0;
  for (std::uint32_t i = token.span.begin; i < token.span.end; ++i) year = year * 10 + (text[i] - '0');
  return year;
}

// A year with nothing that measures behind it, the commonest number of all, needs no
// pattern: "2019", "2027-2035".
std::optional<FoundQuantity> year_at(std::string_view text, const text::TokenizedText& tokens,
                                     std::uint32_t t) {
  const auto& all = tokens.tokens;
  if (!is_year(text, all[t])) return std::nullopt;
  FoundQuantity found{t, t + 1, {}, lexicon::none};
  found.quantity.kind = QuantityKind::vintage;
  const bool dash = t + 2 < all.size() && tokens.key(all[t + 1]) == "-";
  const bool joined = t + 1 < all.size() && all[t + 1].is(Token::joined_before);
  if (dash && is_year(text, all[t + 2]))
    found.last = t + 3;
  else if (joined && is_year(text, all[t + 1]))
    found.last = t + 2;
  if (found.last > t + 1) {
    found.quantity.low = year_of(text, all[t]);
    found.quantity.high = year_of(text, all[found.last - 1]);
  } else {
    if (t + 1 < all.size() && all[t + 1].kind != TokenKind::word && !joined &&
        text[all[t + 1].span.begin] != '.' && text[all[t + 1].span.begin] != ',' &&
        text[all[t + 1].span.begin] != ';' && text[all[t + 1].span.begin] != ')')
      return std::nullopt;   // "2020%", "2019/20"
    found.quantity.value = year_of(text, all[t]);
  }
  found.quantity.span = {all[t].span.begin, all[found.last - 1].span.end};
  return found;
}

}  // namespace

void QuantityFinder::find(std::string_view text, const text::TokenizedText& tokens,
                          std::vector<FoundQuantity>& found) const {
  found.clear();
  const auto count = static_cast<std::uint32_t>(tokens.tokens.size());
  std::uint32_t free = 0;   // the first token not yet in a quantity
  for (std::uint32_t t = 0; t < count; ++t) {
    if (tokens.tokens[t].kind != TokenKind::number || t < free) continue;
    if (auto year = year_at(text, tokens, t)) {
      free = year->last;
      found.push_back(std::move(*year));
      continue;
    }
    const std::uint32_t from = std::max(free, t < words_before ? 0 : t - words_before);
    const std::uint32_t begin = tokens.tokens[from].span.begin;
    const std::uint32_t to = std::min(count, t + tokens_after);
    const re2::StringPiece window(text.data(), tokens.tokens[to - 1].span.end);
    std::optional<FoundQuantity> best;
    for (const int candidate : candidates(*patterns_, window.substr(begin))) {
      const Pattern& pattern = patterns_->all[static_cast<std::size_t>(candidate)];
      std::array<re2::StringPiece, 12> groups;
      if (pattern.groups + 1 > static_cast<int>(groups.size())) continue;
      if (!pattern.regex->Match(window, begin, window.size(), RE2::UNANCHORED, groups.data(),
                                pattern.groups + 1))
        continue;
      const auto at = static_cast<std::uint32_t>(groups[0].data() - text.data());
      const std::uint32_t end = at + static_cast<std::uint32_t>(groups[0].size());
      const std::uint32_t first = token_at(tokens, at), last = token_at(tokens, end - 1) + 1;
      // It must cover this number, and end where a token ends.
      if (first > t || last <= t || tokens.tokens[last - 1].span.end != end ||
          tokens.tokens[first].span.begin != at)
        continue;
      if (best && last - first <= best->last - best->first) continue;
      auto quantity = measured(pattern, patterns_->lexicon, groups.data());
      if (!quantity) continue;
      quantity->span = {at, end};
      best = FoundQuantity{first, last, std::move(*quantity),
                           static_cast<std::uint32_t>(candidate)};
    }
    if (best) {
      free = best->last;
      found.push_back(std::move(*best));
    }
  }
}

}  // namespace racking::match
