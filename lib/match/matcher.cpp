#include "match/matcher.hpp"

namespace racking::match {

using lexicon::CompiledLexicon;
using lexicon::NodeId;
using lexicon::WordId;
using text::Token;

namespace {

WordId identify_one(const text::TokenizedText& text, const Token& token,
                    const CompiledLexicon& lexicon) {
  if (token.is(Token::accented))
    if (const WordId id = lexicon.word(text.exact_key(token))) return id;
  const std::string_view key = text.key(token);
  if (const WordId id = lexicon.word(key)) return id;
  if (key.size() > 2 && key.ends_with("'s")) return lexicon.word(key.substr(0, key.size() - 2));
  if (key.size() > 2 && key.ends_with("s'")) return lexicon.word(key.substr(0, key.size() - 1));
  return 0;
}

}  // namespace

void identify(const text::TokenizedText& text, const CompiledLexicon& lexicon,
              std::vector<WordId>& words) {
  words.clear();
  words.reserve(text.tokens.size());
  for (const Token& token : text.tokens) words.push_back(identify_one(text, token, lexicon));
}

std::uint32_t kinds_of(const CompiledLexicon& lexicon, NodeId node) noexcept {
  std::uint32_t kinds = 0;
  for (const lexicon::Sense& sense : lexicon.senses_of(node)) kinds |= kind_bit(sense.kind);
  return kinds;
}

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

void find_mentions(const text::TokenizedText& text, const CompiledLexicon& lexicon,
                   const std::vector<WordId>& words, std::vector<Mention>& mentions) {
  mentions.clear();
  const auto count = static_cast<std::uint32_t>(words.size());
  for (std::uint32_t first = 0; first < count;) {
    NodeId node = 0, best = 0;
    std::uint32_t best_last = first + 1;
    for (std::uint32_t t = first; t < count && words[t] != 0; ++t) {
      if (t > first && (text.tokens[t].flags & (Token::line_before | Token::sentence_start)))
        break;
      node = lexicon.step(node, words[t]);
      if (node == 0) break;
      if (lexicon.nodes[node].senses.count != 0) {
        best = node;
        best_last = t + 1;
      }
      if (lexicon.nodes[node].children == 0) break;
    }
    if (best != 0) {
      Mention mention;
      mention.first = first;
      mention.last = best_last;
      mention.node = best;
      mention.kinds = kinds_of(lexicon, best);
      mentions.push_back(mention);
    }
    first = best_last;
  }
}

}  // namespace racking::match
