#include "explain/forms.hpp"

#include <algorithm>
#include <tuple>

#include "text/fold.hpp"

namespace racking::explain {

using lexicon::CompiledLexicon;
using lexicon::Inflection;
using lexicon::NodeId;
using lexicon::Sense;

namespace {

constexpr std::uint8_t made_by_rule = Sense::inflected | Sense::derived | Sense::stripped;

lexicon::Inflector inflector_of(const CompiledLexicon& lexicon) {
  lexicon::Inflector out;
  for (const lexicon::InflectionRecord& rule : lexicon.inflections)
    out.add_rule(static_cast<Inflection>(rule.kind), std::string(lexicon.string(rule.ending)),
                 rule.after, std::string(lexicon.string(rule.replace)));
  for (const lexicon::ExceptionRecord& exception : lexicon.exceptions) {
    std::vector<lexicon::Words> made;
    const auto refs = lexicon.range(exception.made);
    for (std::size_t i = 0; i + 1 < refs.size(); i += 2)
      made.push_back(lexicon::split(lexicon.string({refs[i], refs[i + 1]})));
    out.add_exception(static_cast<Inflection>(exception.kind),
                      std::string(lexicon.string(exception.form)), std::move(made));
  }
  return out;
}

std::string rule_text(Inflection kind, const lexicon::Inflector::How& how) {
  std::string out = kind == Inflection::plural ? "plural" : "adjective";
  if (how.is_exception) return out + " exception";
  if (!how.ending.empty()) out.append(" -").append(how.ending);
  out += " -";
  out += how.replace;
  return out;
}

}  // namespace

Forms::Forms(const CompiledLexicon& lexicon)
    : inflector_(inflector_of(lexicon)), from_(lexicon.nodes.size(), 0),
      last_word_(lexicon.nodes.size(), 0) {
  lexicon::WordId most = 0;
  for (const lexicon::Word& word : lexicon.words) most = std::max(most, word.id);
  words_.resize(most + 1);
  for (const lexicon::Word& word : lexicon.words)
    if (word.id != 0 && word.is_alias == 0) words_[word.id] = lexicon.string(word.key);
  for (const lexicon::Edge& edge : lexicon.edges)
    if (edge.to != 0) {
      from_[edge.to] = edge.from;
      last_word_[edge.to] = edge.word;
    }
  for (NodeId node = 1; node < lexicon.nodes.size(); ++node)
    for (const Sense& sense : lexicon.senses_of(node))
      if ((sense.flags & made_by_rule) == 0) given_.push_back({sense.kind, sense.index, node});
  std::sort(given_.begin(), given_.end(), [](const Given& a, const Given& b) {
    return std::tie(a.kind, a.index, a.node) < std::tie(b.kind, b.index, b.node);
  });
}

lexicon::Words Forms::words_of(NodeId node) const {
  lexicon::Words out;
  for (NodeId at = node; at != 0; at = from_[at]) out.push_back(words_[last_word_[at]]);
  std::reverse(out.begin(), out.end());
  return out;
}

std::string Forms::text(NodeId node) const { return lexicon::joined(words_of(node)); }

std::optional<Forms::Origin> Forms::made_of(NodeId base, NodeId node, const Sense& sense) const {
  const lexicon::Sequence given{words_of(base), true};
  const lexicon::Words made = words_of(node);
  const auto matches = [&](const lexicon::Words& words) {
    if (words == made) return true;
    return (sense.flags & Sense::stripped) != 0 &&
           text::fold(lexicon::joined(words)) == lexicon::joined(made);
  };
  const auto by = [&](Inflection kind, const std::vector<lexicon::Words>& all)
      -> std::optional<Origin> {
    if (std::none_of(all.begin(), all.end(), matches)) return std::nullopt;
    return Origin{lexicon::joined(given.words), rule_text(kind, inflector_.how(kind, given))};
  };
  if ((sense.flags & Sense::inflected) != 0)
    return by(Inflection::plural, inflector_.plurals(given));
  if ((sense.flags & Sense::derived) != 0)
    return by(Inflection::adjective, inflector_.adjectives(given));
  if (matches(given.words)) return Origin{lexicon::joined(given.words), ""};
  return std::nullopt;
}

std::optional<Forms::Origin> Forms::origin(NodeId node, const Sense& sense) const {
  if ((sense.flags & made_by_rule) == 0) return std::nullopt;
  const auto before = [](const Given& given, const Sense& its) {
    return std::tie(given.kind, given.index) < std::tie(its.kind, its.index);
  };
  for (auto it = std::lower_bound(given_.begin(), given_.end(), sense, before);
       it != given_.end() && it->kind == sense.kind && it->index == sense.index; ++it)
    if (auto found = made_of(it->node, node, sense)) return found;
  return std::nullopt;
}

}  // namespace racking::explain
