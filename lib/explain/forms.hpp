// Forms as the lexicon was given them, and which of them an inflected one was made of.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "lexicon/compiled.hpp"
#include "lexicon/inflect.hpp"
#include "lexicon/words.hpp"

namespace racking::explain {

// Immutable; the lexicon must outlive it. Costs a walk of all forms to make.
class Forms {
 public:
  explicit Forms(const lexicon::CompiledLexicon& lexicon);

  // A form that a rule made: of which, and by which rule ("plural -y -ies").
  struct Origin {
    std::string form, rule;
  };

  // The words of a node, spaces between, in their folded spelling; of a word id.
  std::string text(lexicon::NodeId node) const;
  std::string word(lexicon::WordId id) const { return words_[id]; }
  // What an inflected, derived or accent-stripped sense of `node` was made of.
  std::optional<Origin> origin(lexicon::NodeId node, const lexicon::Sense& sense) const;

 private:
  lexicon::Words words_of(lexicon::NodeId node) const;
  std::optional<Origin> made_of(lexicon::NodeId base, lexicon::NodeId node,
                                const lexicon::Sense& sense) const;

  struct Given {
    lexicon::SenseKind kind;
    std::uint32_t index;
    lexicon::NodeId node;
  };
  lexicon::Inflector inflector_;
  std::vector<lexicon::NodeId> from_;       // by node: the one before it
  std::vector<lexicon::WordId> last_word_;  // by node: the word that leads to it
  std::vector<std::string> words_;          // by id
  std::vector<Given> given_;                // forms claimed outright, by kind and index
};

}  // namespace racking::explain
