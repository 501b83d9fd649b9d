#include "context/boundaries.hpp"

#include <array>

namespace racking::context {

using lexicon::Stop;
using text::Token;
using text::TokenKind;

namespace {

constexpr std::uint16_t comma_stop = bits(Stop::comma);
constexpr std::uint16_t clause_stop = bits(Stop::clause) | comma_stop;

// "wait and see." is short and no abbreviation.
bool is_small_word(const Workspace& work, std::uint32_t token) {
  const match::Mention* mention = work.mention(token);
  return mention && mention->may_be(lexicon::SenseKind::known) &&
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

// What a mark stops right before itself, by its byte.
constexpr std::array<std::uint16_t, 256> stops_before = [] {
  std::array<std::uint16_t, 256> stops{};
  for (const char comma : {',', ':'}) stops[static_cast<unsigned char>(comma)] = comma_stop;
  for (const char clause : {';', '(', ')', '[', ']'})
    stops[static_cast<unsigned char>(clause)] = clause_stop;
  stops['/'] = bits(Stop::conjunction);
  return stops;
}();

std::uint16_t stops_of(std::uint16_t flags) {
  const unsigned line = (flags & Token::line_before) != 0 ? sentence_stop | bits(Stop::line) : 0u;
  const unsigned sentence = (flags & Token::sentence_start) != 0 ? sentence_stop : 0u;
  return static_cast<std::uint16_t>(line | sentence);
}

void mark_punctuation(std::string_view text, Workspace& work) {
  const auto& tokens = work.text.tokens;
  for (std::uint32_t t = 0; t < tokens.size(); ++t) {
    const Token& token = tokens[t];
    const char first = text[token.span.begin];
    work.stops[t] = static_cast<std::uint16_t>(work.stops[t] | stops_of(token.flags) |
                                               stops_before[static_cast<unsigned char>(first)]);
    if (token.kind < TokenKind::punctuation) continue;
    if (first == '!' || first == '?') {
      if (t + 1 < tokens.size()) work.stops[t + 1] |= sentence_stop;
    } else if (first == '.') {
      if (t + 1 < tokens.size()) work.stops[t + 1] |= after_full_stop(work, t);
    } else if (work.text.key(token) == "-") {
      // A dash that hangs on a word ("black-, blue- and red fruit") ends no clause.
      work.stops[t] = static_cast<std::uint16_t>(
          work.stops[t] | (token.is(Token::space_before) ? clause_stop : comma_stop));
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
