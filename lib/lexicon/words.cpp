#include "lexicon/words.hpp"

#include <algorithm>
#include <cstddef>

namespace racking::lexicon {

Sequence sequence_of(std::string_view form, text::TokenizedText& scratch) {
  Sequence out;
  text::tokenize(form, scratch);
  for (const text::Token& token : scratch.tokens) {
    out.words.emplace_back(token.is(text::Token::accented) ? scratch.exact_key(token)
                                                           : scratch.key(token));
    out.ends_in_word = token.kind == text::TokenKind::word;
  }
  return out;
}

std::string joined(std::span<const std::string> words) {
  std::string out;
  for (const std::string& word : words) {
    if (!out.empty()) out += ' ';
    out += word;
  }
  return out;
}

Words split(std::string_view joined) {
  Words out;
  for (std::size_t begin = 0; begin < joined.size();) {
    const std::size_t end = std::min(joined.find(' ', begin), joined.size());
    if (end > begin) out.emplace_back(joined.substr(begin, end - begin));
    begin = end + 1;
  }
  return out;
}

}  // namespace racking::lexicon
