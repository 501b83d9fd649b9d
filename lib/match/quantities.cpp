#include "match/quantities.hpp"

#include <re2/re2.h>
#include <re2/set.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <deque>
#include <mutex>
#include <optional>
#include <span>
#include <string>
#include <utility>

#include "match/number_words.hpp"
#include "racking/error.hpp"

namespace racking::match {

using lexicon::MeasureRecord;
using text::Token;
using text::TokenKind;

namespace {

constexpr std::uint32_t words_before = 4;    // "total acidity (tartaric): 6.2"
constexpr std::uint32_t tokens_after = 10;   // "0.40 g/L as H2SO4"
constexpr std::uint32_t tokens_after_begun = 18;   // "A420 2.31, A520 3.40, A620 0.80"

// One compiled measure, and which of its groups hold what.
struct Pattern {
  const MeasureRecord* record;
  std::unique_ptr<RE2> regex;
  int value = 0, low = 0, high = 0, out_of = 0, of = 0;
  int lead = 0, rest = 0;      // company that must stand there, outside the span
  std::array<int, 3> sum{};    // the value is their sum
  int over = 0, under = 0;     // or their ratio
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

namespace {

RE2::Options pattern_options() {
  RE2::Options options(RE2::Quiet);
  options.set_case_sensitive(false);
  return options;
}

void name_groups(Pattern& pattern) {
  pattern.groups = pattern.regex->NumberOfCapturingGroups();
  const std::pair<std::string_view, int*> known[] = {
      {"value", &pattern.value},  {"low", &pattern.low},       {"high", &pattern.high},
      {"out_of", &pattern.out_of}, {"of", &pattern.of},        {"lead", &pattern.lead},
      {"rest", &pattern.rest},    {"sum_1", &pattern.sum[0]},  {"sum_2", &pattern.sum[1]},
      {"sum_3", &pattern.sum[2]}, {"over", &pattern.over},     {"under", &pattern.under}};
  for (const auto& [name, index] : pattern.regex->NamedCapturingGroups())
    for (const auto& [key, slot] : known)
      if (key == name) *slot = index;
}

// Compiled when a note first holds a match of it: most readers need few of them, and to
// compile them all is most of the work of making a reader.
class LazyPattern {
 public:
  LazyPattern(const MeasureRecord& record, re2::StringPiece source)
      : record_(&record), source_(source) {}

  const MeasureRecord& record() const noexcept { return *record_; }
  const Pattern& get() const {
    std::call_once(once_, [this] {
      pattern_.record = record_;
      pattern_.regex = std::make_unique<RE2>(source_, pattern_options());
      name_groups(pattern_);
    });
    return pattern_;
  }

 private:
  const MeasureRecord* record_;
  re2::StringPiece source_;
  mutable std::once_flag once_;
  mutable Pattern pattern_;
};

}  // namespace

struct QuantityFinder::Patterns {
  const lexicon::CompiledLexicon& lexicon;
  NumberWords words;
  std::deque<LazyPattern> all;
  RE2::Set which;                  // one pass tells which of them a window holds
  std::deque<LazyPattern> begun;   // those tried only at a number that they name
};

QuantityFinder::QuantityFinder(const lexicon::CompiledLexicon& lexicon)
    : patterns_(new Patterns{lexicon, NumberWords(lexicon), {},
                           RE2::Set(pattern_options(), RE2::UNANCHORED), {}}) {
  RE2::Set checked(pattern_options(), RE2::UNANCHORED);   // for those of no use in `which`
  for (const MeasureRecord& record : lexicon.measures) {
    const std::string_view pattern = lexicon.string(record.pattern);
    const re2::StringPiece source(pattern.data(), pattern.size());
    const bool begun = record.begins.length != 0;
    std::string wrong;
    if ((begun ? checked : patterns_->which).Add(source, &wrong) < 0)
      throw Error(ErrorCode::lexicon_invalid,
                  "measure '" + std::string(lexicon.string(record.id)) + "': " + wrong);
    (begun ? patterns_->begun : patterns_->all).emplace_back(record, source);
  }
  patterns_->which.Compile();
}

QuantityFinder::QuantityFinder(QuantityFinder&&) noexcept = default;
QuantityFinder::~QuantityFinder() = default;

namespace {

// A converted value has as many figures as were written, and three at least.
double converted(double value, std::string_view written, const MeasureRecord& record) {
  if (record.factor == 1.0 && record.offset == 0.0) return value;
  const double exact = value * record.factor + record.offset;
  const auto figures = std::max<std::ptrdiff_t>(
      3, std::count_if(written.begin(), written.end(), [](char c) { return c >= '0' && c <= '9'; }));
  if (exact == 0.0) return exact;
  const double magnitude = std::ceil(std::log10(std::abs(exact)));
  const double scale = std::pow(10.0, static_cast<double>(figures) - magnitude);
  return std::round(exact * scale) / scale;
}

double to_thousandths(double value) { return std::round(value * 1000.0) / 1000.0; }

class Measured {
 public:
  Measured(const Pattern& pattern, const lexicon::CompiledLexicon& lexicon,
           const re2::StringPiece* groups)
      : pattern_(pattern), lexicon_(lexicon), groups_(groups) {}

  std::optional<Quantity> quantity() const {
    const MeasureRecord& record = *pattern_.record;
    Quantity quantity;
    quantity.kind = static_cast<QuantityKind>(record.kind);
    if (record.frame != lexicon::unset) quantity.frame = static_cast<Frame>(record.frame);
    quantity.unit = lexicon_.string(record.unit);
    quantity.value = pattern_.over != 0 ? ratio() : pattern_.sum[0] != 0 ? sum() : group(pattern_.value);
    quantity.low = group(pattern_.low);
    quantity.high = group(pattern_.high);
    quantity.out_of = group(pattern_.out_of);
    if (!quantity.out_of && record.out_of != 0) quantity.out_of = record.out_of;
    if (pattern_.of != 0 && !groups_[pattern_.of].empty())
      quantity.of = std::string(groups_[pattern_.of].data(), groups_[pattern_.of].size());
    const auto outside = [&](std::optional<double> value) {
      return value && (*value < record.least || (record.most != 0 && *value > record.most));
    };
    if (outside(quantity.value) || outside(quantity.low) || outside(quantity.high))
      return std::nullopt;
    if (!quantity.value && !quantity.low && !quantity.high) return std::nullopt;
    if (quantity.out_of && quantity.value && *quantity.value > *quantity.out_of)
      return std::nullopt;
    return quantity;
  }

 private:
  std::optional<double> group(int index) const {
    if (index == 0 || groups_[index].empty()) return std::nullopt;
    const std::string_view written{groups_[index].data(), groups_[index].size()};
    const auto value = number(written);
    if (!value) return std::nullopt;
    return converted(*value, written, *pattern_.record);
  }
  std::optional<double> sum() const {
    double total = 0;
    for (const int index : pattern_.sum) {
      if (index == 0) continue;
      const auto value = group(index);
      if (!value) return std::nullopt;
      total += *value;
    }
    return to_thousandths(total);
  }
  std::optional<double> ratio() const {
    const auto over = group(pattern_.over), under = group(pattern_.under);
    if (!over || !under || *under == 0.0) return std::nullopt;
    return to_thousandths(*over / *under);
  }

  const Pattern& pattern_;
  const lexicon::CompiledLexicon& lexicon_;
  const re2::StringPiece* groups_;
};

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

namespace {

// What of the note patterns are tried on, and the tokens that its bytes stand for: the note
// itself, or a copy in which numbers in words are figures.
struct Window {
  re2::StringPiece text;
  std::size_t begin = 0;
  const text::TokenizedText* tokens = nullptr;   // null: `pieces` say
  std::span<const Piece> pieces;

  // The tokens [first, last) that bytes [at, end) are, if they are whole tokens.
  std::optional<TokenRange> locate(std::uint32_t at, std::uint32_t end) const {
    if (tokens != nullptr) {
      const std::uint32_t first = token_at(*tokens, at), last = token_at(*tokens, end - 1);
      if (last >= tokens->tokens.size() || tokens->tokens[first].span.begin != at ||
          tokens->tokens[last].span.end != end)
        return std::nullopt;
      return TokenRange{first, last + 1};
    }
    const Piece *from = nullptr, *to = nullptr;
    for (const Piece& piece : pieces) {
      if (piece.begin == at) from = &piece;
      if (piece.end == end) to = &piece;
    }
    if (from == nullptr || to == nullptr) return std::nullopt;
    return TokenRange{from->first, to->last};
  }
};

struct Best {
  std::optional<FoundQuantity> found, also;   // `also`: another quantity of the same words
  std::uint32_t width = 0;                    // tokens, company included
  std::uint32_t last = 0;
  std::optional<TokenRange> decoy;
};

// Tries one pattern on the token `t`; keeps the widest match, the first of those as wide.
void try_pattern(const Pattern& pattern, const lexicon::CompiledLexicon& lexicon,
                 const Window& window, std::uint32_t t, Best& best) {
  std::array<re2::StringPiece, 16> groups;
  if (pattern.groups + 1 > static_cast<int>(groups.size())) return;
  if (!pattern.regex->Match(window.text, window.begin, window.text.size(), RE2::UNANCHORED,
                            groups.data(), pattern.groups + 1))
    return;
  const auto offset = [&](const char* at) {
    return static_cast<std::uint32_t>(at - window.text.data());
  };
  const std::uint32_t at = offset(groups[0].data());
  const std::uint32_t end = at + static_cast<std::uint32_t>(groups[0].size());
  if (at == end) return;
  const auto all = window.locate(at, end);
  if (!all || all->first > t || all->last <= t) return;
  const std::uint32_t width = all->last - all->first;
  if (width < best.width) return;
  const bool same = width == best.width;
  // The span is what is left without the company; a blank beside it is neither's.
  std::uint32_t begin = at, stop = end;
  const re2::StringPiece* group = groups.data();
  if (pattern.lead != 0 && group[pattern.lead].data() == group[0].data())
    begin += static_cast<std::uint32_t>(group[pattern.lead].size());
  if (pattern.rest != 0 && !group[pattern.rest].empty()) stop = offset(group[pattern.rest].data());
  while (begin < stop && window.text[begin] == ' ') ++begin;
  while (stop > begin && (window.text[stop - 1] == ' ' || window.text[stop - 1] == '-')) --stop;
  const auto own = window.locate(begin, stop);
  if (!own || own->first > t || own->last <= t) return;
  if (pattern.record->decoy != 0) {
    if (!same) best = {{}, {}, width, own->last, *own};
    return;
  }
  auto quantity = Measured(pattern, lexicon, groups.data()).quantity();
  if (!quantity) return;
  FoundQuantity found{own->first, own->last, std::move(*quantity),
                      static_cast<std::uint32_t>(pattern.record - lexicon.measures.data())};
  if (same) {
    if (best.found && !best.also && pattern.over != 0 && best.found->first == found.first &&
        best.found->last == found.last && best.found->quantity.kind != found.quantity.kind)
      best.also = std::move(found);
    return;
  }
  best = {std::move(found), {}, width, own->last, {}};
}

}  // namespace

void QuantityFinder::find(std::string_view text, const text::TokenizedText& tokens,
                          const std::vector<KnownWord>& known,
                          std::vector<FoundQuantity>& found,
                          std::vector<TokenRange>& decoys) const {
  found.clear();
  decoys.clear();
  const auto count = static_cast<std::uint32_t>(tokens.tokens.size());
  const NumberWords& numbers = patterns_->words;
  std::uint32_t free = 0;   // the first token not yet in a quantity
  const auto keep = [&](Best&& best) {
    if (best.width == 0) return;
    free = std::max(free, best.last);
    if (best.decoy) decoys.push_back(*best.decoy);
    for (auto* one : {&best.found, &best.also}) {
      if (!*one) continue;
      (*one)->quantity.span = {tokens.tokens[(*one)->first].span.begin,
                               tokens.tokens[(*one)->last - 1].span.end};
      found.push_back(std::move(**one));
    }
  };
  for (std::uint32_t t = 0; t < count; ++t) {
    const bool figure = tokens.tokens[t].kind == TokenKind::number;
    if (!figure && !numbers.has(known[t].id)) continue;
    if (t < free) continue;
    Best best;
    const std::uint32_t from = std::max(free, t < words_before ? 0 : t - words_before);
    if (const auto rewritten = numbers.rewrite(text, tokens, known, from, t, t + tokens_after)) {
      const Window window{re2::StringPiece(rewritten->text), 0, nullptr, rewritten->pieces};
      for (const int candidate : candidates(*patterns_, window.text))
        try_pattern(patterns_->all[static_cast<std::size_t>(candidate)].get(), patterns_->lexicon, window,
                    t, best);
      keep(std::move(best));
      continue;
    }
    if (!figure) continue;
    if (auto year = year_at(text, tokens, t)) {
      free = year->last;
      found.push_back(std::move(*year));
      continue;
    }
    const std::uint32_t begin = tokens.tokens[from].span.begin;
    const auto window_to = [&](std::uint32_t after) {
      const std::uint32_t to = std::min(count, t + after);
      return Window{re2::StringPiece(text.data(), tokens.tokens[to - 1].span.end), begin, &tokens, {}};
    };
    for (const LazyPattern& pattern : patterns_->begun)
      if (patterns_->lexicon.string(pattern.record().begins) == tokens.key(tokens.tokens[t]))
        try_pattern(pattern.get(), patterns_->lexicon, window_to(tokens_after_begun), t, best);
    const Window window = window_to(tokens_after);
    for (const int candidate : candidates(*patterns_, window.text.substr(begin)))
      try_pattern(patterns_->all[static_cast<std::size_t>(candidate)].get(), patterns_->lexicon, window, t,
                  best);
    keep(std::move(best));
  }
}

}  // namespace racking::match
