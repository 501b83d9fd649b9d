#include "judge/judge.hpp"

namespace racking::judge {

using context::Workspace;
using text::TokenKind;

void measure_coverage(const lexicon::CompiledLexicon&, const Workspace& work,
                      Note::Content& note) {
  std::uint32_t telling = 0, accounted = 0;
  std::uint32_t open = 0;   // one past the last token, if that was unmapped too
  for (std::uint32_t t = 0; t < work.token_count(); ++t) {
    const text::Token& token = work.text.tokens[t];
    const bool word = token.kind == TokenKind::word;
    const std::uint8_t state = work.accounted[t];
    const bool counts = word & ((state & Workspace::accounted_for) != 0);
    accounted += counts ? 1u : 0u;
    // Function words and small talk are in neither part of the fraction.
    if (!word || state != 0) continue;
    ++telling;
    if (open == t && t > 0)
      note.unmapped.back().end = token.span.end;
    else
      note.unmapped.push_back(token.span);
    open = t + 1;
  }
  telling += accounted;
  if (work.no_note) accounted = 0;   // nothing of it is in a wine
  note.coverage = telling == 0 ? 1.0 : static_cast<double>(accounted) / telling;
}

}  // namespace racking::judge
