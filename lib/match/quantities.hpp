// Measures in running text: alcohol, sugar, acidities, scores, vintages …
#pragma once

#include <memory>
#include <string_view>
#include <vector>

#include "lexicon/compiled.hpp"
#include "match/index.hpp"
#include "note_content.hpp"
#include "text/tokens.hpp"

namespace racking::match {

struct TokenRange {
  std::uint32_t first = 0, last = 0;
};

struct FoundQuantity {
  std::uint32_t first = 0, last = 0;   // tokens
  Quantity quantity;
  std::uint32_t measure = lexicon::none;   // into CompiledLexicon::measures; none: a bare year
};

// The lexicon's measure patterns, each compiled when first needed; safe to share. The only
// user of RE2. Throws Error (lexicon_invalid) for a pattern that does not compile.
class QuantityFinder {
 public:
  explicit QuantityFinder(const lexicon::CompiledLexicon& lexicon);
  QuantityFinder(QuantityFinder&&) noexcept;
  ~QuantityFinder();

  // Quantities in text order, without overlap, but for two of the same words. Patterns are tried
  // only where a figure stands, or a number in words before a word of measure. `decoys`: figures that look like a measure and are none.
  void find(std::string_view text, const text::TokenizedText& tokens,
            const std::vector<KnownWord>& known, std::vector<FoundQuantity>& found,
            std::vector<TokenRange>& decoys) const;

 private:
  struct Patterns;
  std::unique_ptr<Patterns> patterns_;
};

}  // namespace racking::match
