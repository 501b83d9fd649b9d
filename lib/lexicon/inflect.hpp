// Plurals and adjectives by the language's rules, which are data.
#pragma once

#include <array>
#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "lexicon/compiled.hpp"
#include "lexicon/words.hpp"

namespace racking::lexicon {

class Inflector {
 public:
  // Rules are tried in the order they were added.
  void add_rule(Inflection kind, std::string ending, int after, std::string replace);
  // `form` is joined words. A later exception for the same form replaces the earlier.
  void add_exception(Inflection kind, std::string form, std::vector<Words> made);

  // Of the whole form if it is an exception, else of its last word.
  std::vector<Words> plurals(const Sequence& form) const;
  // Of one-word forms, unless the whole form is an exception.
  std::vector<Words> adjectives(const Sequence& form) const;

  // By what `form` is inflected: an exception, or an ending and what stands for it.
  struct How {
    bool is_exception = false;
    std::string_view ending, replace;
  };
  How how(Inflection kind, const Sequence& form) const;

 private:
  struct Rule {
    std::string ending, replace;
    int after;                           // as in InflectionRecord
  };
  const std::vector<Words>* exception(Inflection kind, const std::string& form) const;
  const Rule* rule(Inflection kind, std::string_view word) const;
  std::optional<std::string> by_rule(Inflection kind, std::string_view word) const;

  std::array<std::vector<Rule>, 2> rules_;
  std::array<std::map<std::string, std::vector<Words>, std::less<>>, 2> exceptions_;
};

}  // namespace racking::lexicon
