#include "match/matcher.hpp"

namespace racking::match {

using lexicon::CompiledLexicon;
using lexicon::NodeId;
using lexicon::WordId;
using text::Token;

namespace {

KnownWord identify(const text::TokenizedText& text, const Token& token, const MatchIndex& index) {
  if (token.is(Token::accented))
    if (const KnownWord word = index.word(text.exact_key(token)); word.id != 0) return word;
  const std::string_view key = text.key(token);
  const KnownWord word = index.word(key);
  if (word.id != 0 || key.size() < 3) return word;
  if (key.ends_with("'s")) return index.word(key.substr(0, key.size() - 2));
  if (key.ends_with("s'")) return index.word(key.substr(0, key.size() - 1));
  return word;
}

}  // namespace

NodeId walk(const CompiledLexicon& lexicon, const std::vector<WordId>& words,
            std::uint32_t first, std::uint32_t last, std::uint32_t more_first,
            std::uint32_t more_last) {
  NodeId node = 0;
  for (std::uint32_t t = first; t < last; ++t)
    if (words[t] == 0 || (node = lexicon.step(node, words[t])) == 0) return 0;
  for (std::uint32_t t = more_first; t < more_last; ++t)
    if (words[t] == 0 || (node = lexicon.step(node, words[t])) == 0) return 0;
  return node;
}

void find_mentions(const text::TokenizedText& text, const MatchIndex& index,
                   std::vector<WordId>& words, std::vector<Mention>& mentions) {
  constexpr std::uint16_t breaks = Token::line_before | Token::sentence_start;
  const auto count = static_cast<std::uint32_t>(text.tokens.size());
  mentions.clear();
  words.resize(count);
  for (std::uint32_t t = 0; t < count; ++t) words[t] = identify(text, text.tokens[t], index).id;
  for (std::uint32_t first = 0; first < count;) {
    NodeId node = index.root(words[first]), best = 0;
    std::uint32_t best_last = first + 1;
    for (std::uint32_t t = first + 1; node != 0; ++t) {
      if (index.kinds(node) != 0) {
        best = node;
        best_last = t;
      }
      if (!index.goes_on(node) || t >= count || (text.tokens[t].flags & breaks) != 0) break;
      node = index.step(node, words[t]);
    }
    if (best != 0) {
      Mention& mention = mentions.emplace_back();
      mention.first = first;
      mention.last = best_last;
      mention.node = best;
      mention.kinds = index.kinds(best);
    }
    first = best_last;
  }
}

}  // namespace racking::match
