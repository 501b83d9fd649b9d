#include "judge/judge.hpp"

namespace racking::judge {

using lexicon::SenseKind;
using match::Mention;
using text::TokenKind;

namespace {

// Function words and small talk are in neither part of the fraction.
bool says_nothing(const Mention* mention) {
  return mention && mention->may_be(SenseKind::known) && !mention->decided;
}

}  // namespace

void measure_coverage(const lexicon::CompiledLexicon&, const context::Workspace& work,
                      Note::Content& note) {
  std::uint32_t telling = 0, accounted = 0;
  bool open = false;   // the last token was unmapped too
  for (std::uint32_t t = 0; t < work.token_count(); ++t) {
    const text::Token& token = work.text.tokens[t];
    if (token.kind != TokenKind::word) {
      open = false;
      continue;
    }
    const std::uint32_t at = work.mention_at[t];
    const Mention* mention = at == 0 ? nullptr : &work.mentions[at - 1];
    if (work.accounted[t] != 0) {
      ++telling;
      ++accounted;
      open = false;
    } else if (mention && (says_nothing(mention) || mention->decided ||
                           (mention->kinds & lexicon::claiming_kinds))) {
      open = false;
    } else {
      ++telling;
      if (open)
        note.unmapped.back().end = token.span.end;
      else
        note.unmapped.push_back(token.span);
      open = true;
    }
  }
  note.coverage = telling == 0 ? 1.0 : static_cast<double>(accounted) / telling;
}

}  // namespace racking::judge
