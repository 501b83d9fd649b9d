// A form with slots, written out: "{cant} {quite?} find" is two sequences of words.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "lexicon/words.hpp"

namespace racking::lexicon {

// A slot is a word of the lexicon that no note can write: "{cant}"; "{*}" is any word at all.
inline constexpr std::string_view any_word = "{*}";
inline bool is_slot_word(std::string_view word) noexcept {
  return word.size() > 2 && word.front() == '{' && word.back() == '}';
}
inline std::string slot_word(std::string_view id) { return '{' + std::string(id) + '}'; }

// Alternatives written in place are a slot without a name: its id is its words.
inline constexpr char alternatives_mark = '|';
inline bool is_alternatives(std::string_view id) noexcept {
  return id.find(alternatives_mark) != std::string_view::npos;
}
std::string alternatives_id(const Words& sorted);
Words words_of_alternatives(std::string_view id);

inline bool has_slots(std::string_view form) noexcept {
  return form.find_first_of("{}") != std::string_view::npos;
}

struct Variants {
  std::vector<Words> all;                // none if something is wrong; their order says nothing
  std::string wrong, mend;               // empty, or what
};
// Every way to say the form, 256 at most; that the slots exist is not looked at.
Variants variants_of(std::string_view form, text::TokenizedText& scratch);

}  // namespace racking::lexicon
