#include "study/company.hpp"

#include <algorithm>
#include <cmath>

namespace racking::study {
namespace {

constexpr std::string_view kind_letters = "lmrsbf";
// How many companions' worth of the mean company each family is given: a Dirichlet prior.
constexpr double prior = 10.0;

bool ends_sentence(const text::Token& token) {
  return token.is(text::Token::sentence_start) || token.is(text::Token::line_before);
}

}  // namespace

std::uint32_t Company::id_of(char kind, std::string_view word) {
  std::string key(1, kind);
  key += word;
  const auto found = ids_.find(key);
  if (found != ids_.end()) return found->second;
  if (ids_.size() == most_companions) return most_companions;
  const auto id = static_cast<std::uint32_t>(ids_.size());
  ids_.emplace(std::move(key), id);
  const std::size_t at = kind_letters.find(kind);
  kind_.push_back(static_cast<std::uint8_t>(at));
  ++distinct_[at];
  counts_.emplace_back();
  all_.push_back(0);
  return id;
}

std::size_t Company::family_of(const Aroma& aroma) {
  const std::string_view id = aroma.descriptor.family().id();
  const auto found = std::find(families_.begin(), families_.end(), id);
  const auto at = static_cast<std::size_t>(found - families_.begin());
  if (found != families_.end() || id.empty() || at == most_families) return id.empty() ? most_families : at;
  families_.emplace_back(id);
  return at;
}

// The aroma next to `span` whose tokens are in the same sentence, [first, last).
const Aroma* Company::nearest(Span span, std::size_t first, std::size_t last, bool after) const {
  const auto aromas = note_->aromas();
  const std::uint32_t begin = words_.tokens[first].span.begin;
  const std::uint32_t end = words_.tokens[last - 1].span.end;
  const Aroma* found = nullptr;
  for (const Aroma& aroma : aromas) {
    if (aroma.span.begin < begin || aroma.span.end > end) continue;
    if (after && aroma.span.begin >= span.end) return &aroma;
    if (!after && aroma.span.end <= span.begin) found = &aroma;
  }
  return found;
}

std::vector<std::uint32_t> Company::companions_of(Span span) {
  const auto& tokens = words_.tokens;
  const auto after = std::partition_point(tokens.begin(), tokens.end(), [&](const auto& token) {
    return token.span.begin < span.end;
  });
  const auto before = std::partition_point(tokens.begin(), tokens.end(), [&](const auto& token) {
    return token.span.end <= span.begin;
  });
  std::vector<std::uint32_t> out;
  const auto add = [&](char kind, std::string_view word) {
    const std::uint32_t id = id_of(kind, word);
    if (id < most_companions) out.push_back(id);
  };
  const auto left = before - tokens.begin(), right = tokens.end() - after;
  for (std::ptrdiff_t at = 1; at <= std::min<std::ptrdiff_t>(2, left); ++at) {
    add(at == 1 ? 'l' : 'm', words_.key(*(before - at)));
    add('b', words_.key(*(before - at)));
  }
  for (std::ptrdiff_t at = 0; at < std::min<std::ptrdiff_t>(2, right); ++at) {
    add(at == 0 ? 'r' : 's', words_.key(*(after + at)));
    add('b', words_.key(*(after + at)));
  }
  if (before == tokens.end() || before >= after) return out;
  auto first = before, last = after;
  while (first != tokens.begin() && !ends_sentence(*first)) --first;
  while (last != tokens.end() && !ends_sentence(*last)) ++last;
  const auto begin = static_cast<std::size_t>(first - tokens.begin());
  const auto end = static_cast<std::size_t>(last - tokens.begin());
  for (const bool to_the_right : {false, true})
    if (const Aroma* aroma = nearest(span, begin, end, to_the_right))
      add('f', aroma->descriptor.family().id());
  return out;
}

void Company::read(const Note& note) {
  note_ = &note;
  text::tokenize(note.text(), words_);
  for (const Aroma& aroma : note.aromas()) {
    const std::size_t family = family_of(aroma);
    if (family == most_families) continue;
    ++families_seen_[family];
    ++learned_;
    for (const std::uint32_t companion : companions_of(aroma.span)) {
      ++counts_[companion][family];
      ++all_[companion];
      ++by_family_[kind_[companion]][family];
      ++by_kind_[kind_[companion]];
    }
  }
}

// The share of a companion among all of its kind, none of them without a little.
double Company::background(std::uint32_t companion) const {
  const std::size_t kind = kind_[companion];
  return (static_cast<double>(all_[companion]) + 0.5) /
         (static_cast<double>(by_kind_[kind]) + 0.5 * static_cast<double>(distinct_[kind]));
}

// Log prior of the family, and of each companion ln P(companion | family) ÷ P(companion) where it
// is positive: what speaks against a family of many is no evidence for one of few.
std::vector<Fit> Company::fit(const Companions& companions) const {
  std::vector<Fit> out;
  for (std::size_t family = 0; family < families_.size(); ++family) {
    double weight = std::log((static_cast<double>(families_seen_[family]) + 1) *
                             static_cast<double>(families_.size()) /
                             (static_cast<double>(learned_) + static_cast<double>(families_.size())));
    for (const auto& [companion, times] : companions) {
      const double mean = background(companion);
      const double share =
          (static_cast<double>(counts_[companion][family]) + prior * mean) /
          (static_cast<double>(by_family_[kind_[companion]][family]) + prior);
      weight += static_cast<double>(times) * std::max(0.0, std::log(share / mean));
    }
    out.push_back({families_[family], weight});
  }
  std::sort(out.begin(), out.end(), [](const Fit& a, const Fit& b) {
    return a.weight != b.weight ? a.weight > b.weight : a.family < b.family;
  });
  return out;
}

}  // namespace racking::study
