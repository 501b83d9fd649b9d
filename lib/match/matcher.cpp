#include "match/matcher.hpp"

namespace racking::match {

using lexicon::CompiledLexicon;
using lexicon::NodeId;
using lexicon::WordId;
using text::Token;

namespace {

KnownWord identify(const text::TokenizedText& text, const Token& token,
                   const MatchIndex& index) {
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

namespace {

struct Longest {
  NodeId node;
  std::uint32_t last;
};

// The longest form from `first`, whose own word leads to `word.root`.
Longest longest(const text::TokenizedText& text, const MatchIndex& index,
                const std::vector<WordId>& words, std::uint32_t first, const KnownWord& word) {
  constexpr std::uint16_t breaks = Token::line_before | Token::sentence_start;
  Longest best{word.kinds != 0 ? word.root : 0, first + 1};
  if (word.goes_on == 0) return best;
  NodeId node = word.root;
  for (std::uint32_t t = first + 1; t < words.size(); ++t) {
    if (words[t] == 0 || (text.tokens[t].flags & breaks) != 0) break;
    node = index.step(node, words[t]);
    if (node == 0) break;
    if (index.kinds(node) != 0) best = {node, t + 1};
    if (!index.goes_on(node)) break;
  }
  return best;
}

}  // namespace

void find_mentions(const text::TokenizedText& text, const MatchIndex& index,
                   std::vector<KnownWord>& known, std::vector<WordId>& words,
                   std::vector<Mention>& mentions, const Spelling* spelling,
                   std::vector<std::uint32_t>* respelled) {
  const auto count = static_cast<std::uint32_t>(text.tokens.size());
  mentions.clear();
  known.resize(count);
  words.resize(count);
  bool all_known = true;
  for (std::uint32_t t = 0; t < count; ++t) {
    known[t] = identify(text, text.tokens[t], index);
    words[t] = known[t].id;
    all_known = all_known && (words[t] != 0 || text.tokens[t].kind != text::TokenKind::word);
  }
  if (respelled != nullptr) respelled->clear();
  if (spelling != nullptr && !all_known) spelling->respell(text, known, words, *respelled);
  for (std::uint32_t first = 0; first < count;) {
    if (known[first].root == 0) {
      ++first;
      continue;
    }
    const Longest best = longest(text, index, words, first, known[first]);
    if (best.node != 0) {
      Mention& mention = mentions.emplace_back();
      mention.first = first;
      mention.last = best.last;
      mention.node = best.node;
      mention.kinds = best.last == first + 1 ? known[first].kinds : index.kinds(best.node);
    }
    first = best.last;
  }
}

}  // namespace racking::match
