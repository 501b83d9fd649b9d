#include "lexicon/inflect.hpp"

#include <utility>

#include "text/fold.hpp"

namespace racking::lexicon {
namespace {

std::size_t index_of(Inflection kind) { return static_cast<std::size_t>(kind); }

// 1 if a vowel stands last, 2 if a consonant does, 0 for anything else.
int last_sound(std::string_view stem) {
  std::size_t begin = stem.size();
  while (begin > 0 && (static_cast<unsigned char>(stem[begin - 1]) & 0xc0u) == 0x80u) --begin;
  if (begin == 0) return 0;
  const std::string letter = text::fold(stem.substr(begin - 1));
  if (letter.empty()) return 0;
  const char last = letter.back();
  if (std::string_view("aeiou").find(last) != std::string_view::npos) return 1;
  return last >= 'a' && last <= 'z' ? 2 : 0;
}

}  // namespace

void Inflector::add_rule(Inflection kind, std::string ending, int after, std::string replace) {
  rules_[index_of(kind)].push_back({std::move(ending), std::move(replace), after});
}

void Inflector::add_exception(Inflection kind, std::string form, std::vector<Words> made) {
  exceptions_[index_of(kind)].insert_or_assign(std::move(form), std::move(made));
}

const std::vector<Words>* Inflector::exception(Inflection kind, const std::string& form) const {
  const auto& all = exceptions_[index_of(kind)];
  const auto found = all.find(form);
  return found == all.end() ? nullptr : &found->second;
}

const Inflector::Rule* Inflector::rule(Inflection kind, std::string_view word) const {
  for (const Rule& rule : rules_[index_of(kind)]) {
    if (!word.ends_with(rule.ending)) continue;
    const std::string_view stem = word.substr(0, word.size() - rule.ending.size());
    if (rule.after == 0 || last_sound(stem) == rule.after) return &rule;
  }
  return nullptr;
}

std::optional<std::string> Inflector::by_rule(Inflection kind, std::string_view word) const {
  const Rule* found = rule(kind, word);
  if (found == nullptr) return std::nullopt;
  std::string made =
      std::string(word.substr(0, word.size() - found->ending.size())) + found->replace;
  if (made == word || made.empty()) return std::nullopt;
  return made;
}

Inflector::How Inflector::how(Inflection kind, const Sequence& form) const {
  if (form.words.empty() || exception(kind, joined(form.words)) ||
      (kind == Inflection::plural && exception(kind, form.words.back())))
    return {true, {}, {}};
  const Rule* found = rule(kind, form.words.back());
  if (found == nullptr) return {};
  return {false, found->ending, found->replace};
}

std::vector<Words> Inflector::plurals(const Sequence& form) const {
  if (form.words.empty()) return {};
  if (const auto* whole = exception(Inflection::plural, joined(form.words))) return *whole;
  if (!form.ends_in_word) return {};
  std::vector<Words> lasts;
  if (const auto* last = exception(Inflection::plural, form.words.back()))
    lasts = *last;
  else if (auto made = by_rule(Inflection::plural, form.words.back()))
    lasts = {{std::move(*made)}};
  for (Words& last : lasts)
    last.insert(last.begin(), form.words.begin(), form.words.end() - 1);
  return lasts;
}

std::vector<Words> Inflector::adjectives(const Sequence& form) const {
  if (form.words.empty()) return {};
  if (const auto* whole = exception(Inflection::adjective, joined(form.words))) return *whole;
  if (form.words.size() != 1 || !form.ends_in_word) return {};
  if (auto made = by_rule(Inflection::adjective, form.words.front()))
    return {{std::move(*made)}};
  return {};
}

}  // namespace racking::lexicon
