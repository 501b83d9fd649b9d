#include "lexicon/variants.hpp"

#include <algorithm>
#include <cstddef>

namespace racking::lexicon {
namespace {

constexpr std::size_t most_variants = 256;

// What may stand in one place of a form: one of these.
using Choice = std::vector<Words>;

bool is_space(char c) { return c == ' '; }

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && is_space(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_space(text.back())) text.remove_suffix(1);
  return text;
}

class Parser {
 public:
  Parser(std::string_view form, text::TokenizedText& scratch) : form_(form), scratch_(scratch) {}

  Variants parse() {
    for (std::size_t at = 0; at < form_.size() && out_.wrong.empty();) {
      const std::size_t open = std::min(form_.find_first_of("{}", at), form_.size());
      if (open > at) choices_.push_back({sequence_of(form_.substr(at, open - at), scratch_).words});
      at = open == form_.size() ? open : slot(open);
    }
    if (out_.wrong.empty()) multiply();
    if (out_.wrong.empty()) check();
    if (!out_.wrong.empty()) out_.all.clear();
    return std::move(out_);
  }

 private:
  void fail(std::string wrong, std::string mend) {
    out_.wrong = std::move(wrong);
    out_.mend = std::move(mend);
  }

  // Reads the slot that opens at `open`; where it ends.
  std::size_t slot(std::size_t open) {
    const std::size_t close = form_.find_first_of("{}", open + 1);
    if (form_[open] == '}' || close == std::string_view::npos || form_[close] == '{') {
      fail("a slot in the form '" + std::string(form_) + "' is not closed",
           "write {slot}, with a bracket on each side");
      return form_.size();
    }
    const auto touches = [&](std::size_t at) { return at < form_.size() && !is_space(form_[at]); };
    if ((open > 0 && touches(open - 1)) || touches(close + 1))
      fail("a slot in the form '" + std::string(form_) + "' touches another word",
           "a slot stands for a whole word: put a space beside it");
    choose(form_.substr(open + 1, close - open - 1));
    return close + 1;
  }

  void choose(std::string_view inside) {
    inside = trimmed(inside);
    Choice choice;
    if (inside.ends_with('?')) {
      inside = trimmed(inside.substr(0, inside.size() - 1));
      choice.emplace_back();
    }
    if (inside.empty())
      fail("a slot in the form '" + std::string(form_) + "' is empty", "write its id: {slot}");
    else if (inside.find('|') == std::string_view::npos)
      choice.push_back({slot_word(inside)});
    else
      choose_among(inside, choice);
    choices_.push_back(std::move(choice));
  }

  // "this|that one": single words make a slot of their own, so that they need no form each.
  void choose_among(std::string_view inside, Choice& choice) {
    Words single;
    for (std::size_t at = 0; at <= inside.size();) {
      const std::size_t end = std::min(inside.find('|', at), inside.size());
      Words words = sequence_of(inside.substr(at, end - at), scratch_).words;
      if (words.size() == 1) single.push_back(std::move(words.front()));
      else choice.push_back(std::move(words));
      at = end + 1;
    }
    std::sort(single.begin(), single.end());
    single.erase(std::unique(single.begin(), single.end()), single.end());
    if (single.size() == 1) choice.push_back(single);
    else if (!single.empty()) choice.push_back({slot_word(alternatives_id(single))});
  }

  void multiply() {
    out_.all.emplace_back();
    for (const Choice& choice : choices_) {
      if (out_.all.size() * choice.size() > most_variants) {
        fail("the form '" + std::string(form_) + "' can be said in more than " +
                 std::to_string(most_variants) + " ways",
             "write several forms, or make a slot of its alternatives");
        return;
      }
      std::vector<Words> longer;
      for (const Words& before : out_.all)
        for (const Words& words : choice) {
          longer.push_back(before);
          longer.back().insert(longer.back().end(), words.begin(), words.end());
        }
      out_.all = std::move(longer);
    }
  }

  void check() {
    for (const Words& words : out_.all) {
      if (words.empty())
        return fail("nothing is left of the form '" + std::string(form_) + "'",
                    "a part of it must have no '?'");
      if (words.front() == any_word || words.back() == any_word)
        return fail("the form '" + std::string(form_) + "' can begin or end with {*}",
                    "begin and end it with a word or a slot");
    }
  }

  std::string_view form_;
  text::TokenizedText& scratch_;
  std::vector<Choice> choices_;
  Variants out_;
};

}  // namespace

std::string alternatives_id(const Words& sorted) {
  std::string id;
  for (const std::string& word : sorted) id.append(id.empty() ? "" : "|").append(word);
  return id;
}

Words words_of_alternatives(std::string_view id) {
  Words words;
  for (std::size_t at = 0; at <= id.size();) {
    const std::size_t end = std::min(id.find(alternatives_mark, at), id.size());
    words.emplace_back(id.substr(at, end - at));
    at = end + 1;
  }
  return words;
}

Variants variants_of(std::string_view form, text::TokenizedText& scratch) {
  return Parser(form, scratch).parse();
}

}  // namespace racking::lexicon
