// What the tests of the lexicon share.
#pragma once

#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "lexicon/build.hpp"
#include "lexicon/compiled.hpp"
#include "lexicon/load.hpp"
#include "racking/error.hpp"
#include "racking/lexicon.hpp"
#include "text/tokens.hpp"

namespace lexicon_test {

using namespace racking;
using namespace racking::lexicon;

// A hierarchy that other entries of a test can refer to.
inline const std::string estate = R"(
[[family]]
id = "hedgerow"
gloss = "Berries beside a lane."
[[family]]
id = "orchard"
[[descriptor]]
id = "currants"
parents = ["hedgerow"]
[[descriptor]]
id = "blackcurrant"
parents = ["currants", "orchard"]
origin = ["grape", "ageing"]
forms = ["blackcurrant", "cassis", "black currant"]
adjectives = ["cassis-like"]
fixed = ["crème de cassis"]
compounds = ["4mmp"]
state = ["dried"]
[[compound]]
id = "4mmp"
label = "4-mercapto-4-methylpentan-2-one"
source = "a handbook"
)";

inline const std::string english = R"(
[[inflection]]
kind = "plural"
ending = "s"
replace = "s"
[[inflection]]
kind = "plural"
ending = "y"
after = "consonant"
replace = "ies"
[[inflection]]
kind = "plural"
ending = ""
replace = "s"
[[inflection]]
kind = "adjective"
ending = "y"
replace = "y"
[[inflection]]
kind = "adjective"
ending = "e"
replace = "y"
[[inflection]]
kind = "adjective"
ending = ""
replace = "y"
[[exception]]
form = "leaf"
plural = ["leaves"]
adjective = []
[[exception]]
form = "core of apple"
plural = ["cores of apple"]
)";

struct Built {
  std::vector<Problem> problems;
  std::string blob;
  std::shared_ptr<const CompiledLexicon> lexicon;
};

inline Built build_text(const std::string& toml, const CompiledLexicon* base = nullptr) {
  Built out;
  Source source;
  load_text(toml, "test.toml", source, out.problems);
  out.blob = build(source, base, out.problems);
  if (!out.blob.empty()) out.lexicon = CompiledLexicon::from_blob(out.blob);
  return out;
}

inline std::string first_problem(const std::string& toml) {
  const Built built = build_text(toml);
  return built.problems.empty() ? std::string() : built.problems.front().to_string();
}

// The node of a form, word for word.
inline NodeId node_of(const CompiledLexicon& lexicon, std::string_view form) {
  text::TokenizedText words;
  text::tokenize(form, words);
  NodeId at = 0;
  for (const text::Token& token : words.tokens) {
    WordId word = token.is(text::Token::accented) ? lexicon.word(words.exact_key(token)) : 0;
    if (word == 0) word = lexicon.word(words.key(token));
    at = lexicon.step(at, word);
    if (at == 0) return 0;
  }
  return at;
}

// "descriptor blackcurrant" for each sense of the form, in order.
inline std::vector<std::string> senses(const CompiledLexicon& lexicon, std::string_view form) {
  static constexpr std::string_view kinds[] = {
      "descriptor", "phrase", "level", "anchor",    "modifier", "trait", "hue",
      "sight",      "fault",  "hint",  "companion", "name",     "cue",   "known"};
  std::vector<std::string> out;
  const NodeId node = node_of(lexicon, form);
  if (node == 0) return out;
  for (const Sense& sense : lexicon.senses_of(node)) {
    std::string text(kinds[static_cast<std::size_t>(sense.kind)]);
    if (sense.kind == SenseKind::descriptor)
      (text += ' ') += lexicon.string(lexicon.descriptors[sense.index].id);
    if ((sense.flags & Sense::inflected) != 0) text += " inflected";
    if ((sense.flags & Sense::derived) != 0) text += " derived";
    if ((sense.flags & Sense::adjective) != 0) text += " adjective";
    if ((sense.flags & Sense::stripped) != 0) text += " stripped";
    out.push_back(text);
  }
  return out;
}

inline std::string sense(const CompiledLexicon& lexicon, std::string_view form) {
  std::string out;
  for (const std::string& one : senses(lexicon, form)) (out += out.empty() ? "" : ", ") += one;
  return out;
}

}  // namespace lexicon_test
