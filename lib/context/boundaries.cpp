#include "context/boundaries.hpp"

#include <algorithm>

namespace racking::context {

using lexicon::Stop;
using text::Token;
using text::TokenKind;

namespace {

constexpr std::uint16_t comma_stop = bits(Stop::comma);
constexpr std::uint16_t clause_stop = bits(Stop::clause) | comma_stop;

// "wait and see." is short and no abbreviation.
bool is_small_word(const Workspace& work, std::uint32_t token) {
  const std::uint32_t at = work.mention_at[token];
  return at != 0 && work.mentions[at - 1].may_be(lexicon::SenseKind::known) &&
         work.text.tokens[token].key_length > 2;
}

// A full stop inside a line of shorthand ("cass. cedar") ends no sentence; after a
// short word it is most often an abbreviation ("med. body").
std::uint16_t after_full_stop(const Workspace& work, std::uint32_t stop) {
  constexpr std::uint16_t abbreviation_length = 4;
  const auto& tokens = work.text.tokens;
  if (stop + 1 >= tokens.size()) return sentence_stop;
  const Token& next = tokens[stop + 1];
  if (next.is(Token::sentence_start) || next.is(Token::line_before)) return sentence_stop;
  if (next.is(Token::capital)) return sentence_stop;
  if (stop > 0 && tokens[stop - 1].kind == TokenKind::word &&
      (tokens[stop - 1].key_length > abbreviation_length || is_small_word(work, stop - 1)))
    return clause_stop;
  return comma_stop;
}

bool is_mark(const Token& token) {
  return token.kind == TokenKind::punctuation || token.kind == TokenKind::symbol;
}

void mark_punctuation(std::string_view text, Workspace& work) {
  const auto& tokens = work.text.tokens;
  for (std::uint32_t t = 0; t < tokens.size(); ++t) {
    const Token& token = tokens[t];
    if (token.is(Token::sentence_start)) work.stops[t] |= sentence_stop;
    if (token.is(Token::line_before))
      work.stops[t] = static_cast<std::uint16_t>(work.stops[t] | sentence_stop | bits(Stop::line));
    if (!is_mark(token)) continue;
    switch (text[token.span.begin]) {
      case ',': work.stops[t] |= comma_stop; break;
      case ';': case '(': case ')': case '[': case ']': work.stops[t] |= clause_stop; break;
      case '!': case '?':
        if (t + 1 < tokens.size()) work.stops[t + 1] |= sentence_stop;
        break;
      case ':': work.stops[t] |= comma_stop; break;
      case '.':
        if (t + 1 < tokens.size()) work.stops[t + 1] |= after_full_stop(work, t);
        break;
      case '/': work.stops[t] |= bits(Stop::conjunction); break;
      default:
        // A dash that hangs on a word ("black-, blue- and red fruit") ends no clause.
        if (work.text.key(token) == "-")
          work.stops[t] = static_cast<std::uint16_t>(
              work.stops[t] | (token.is(Token::space_before) ? clause_stop : comma_stop));
        break;
    }
  }
}

}  // namespace

void mark_boundaries(std::string_view text, const match::MatchIndex& index, Workspace& work) {
  work.stops.assign(work.text.tokens.size(), 0);
  mark_punctuation(text, work);
  for (const match::Mention& mention : work.mentions)
    work.stops[mention.first] =
        static_cast<std::uint16_t>(work.stops[mention.first] | index.node(mention.node).stops);
}

}  // namespace racking::context
