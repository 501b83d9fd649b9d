#include "context/senses.hpp"

#include <algorithm>

#include "context/scopes.hpp"

namespace racking::context {

using lexicon::CompiledLexicon;
using lexicon::Range;
using lexicon::SenseKind;
using lexicon::SenseRuleRecord;
using lexicon::Stop;
using match::Mention;
using text::Token;

namespace {

class Chooser {
 public:
  Chooser(const match::MatchIndex& index, Workspace& work)
      : index_(index), lexicon_(index.lexicon()), work_(work) {
    first_perception_ = work.token_count();
    for (const CueUse& use : work.cues) {
      const std::uint8_t phase = lexicon_.cues[use.record].phase;
      if (phase != lexicon::unset && phase != static_cast<std::uint8_t>(Phase::sight))
        first_perception_ = std::min(first_perception_, use.first);
    }
  }

  void decide(Mention& mention) const {
    const match::MatchIndex::Node& node = index_.node(mention.node);
    for (const std::uint32_t rule : lexicon_.indices.subspan(node.rules, node.rule_count)) {
      if (!holds(lexicon_.sense_rules[rule], mention)) continue;
      mention.rule = rule;
      if (work_.trace) trace(rule, mention);
      choose(mention, lexicon_.sense_rules[rule]);
      return;
    }
    take(mention, node.kind, node.sense);
  }

 private:
  void choose(Mention& mention, const SenseRuleRecord& rule) const {
    for (const SenseKind kind : match::preferred_kinds) {
      if ((rule.choose & kind_bit(kind)) == 0) continue;
      for (const lexicon::Sense& sense : lexicon_.senses_of(mention.node))
        if (sense.kind == kind &&
            (rule.choose_index == lexicon::none || sense.index == rule.choose_index))
          return take(mention, kind, sense.index);
    }
  }

  void take(Mention& mention, SenseKind kind, std::uint32_t index) const {
    mention.kind = kind;
    mention.index = index;
    mention.decided = true;
    if (kind == SenseKind::descriptor) __builtin_prefetch(&lexicon_.descriptors[index]);
  }

  bool holds(const SenseRuleRecord& rule, const Mention& mention) const {
    return right_phase(rule, mention) && right_words(rule, mention) &&
           right_company(rule, mention) && right_case(rule, mention) &&
           (!rule.first || mention.first < first_perception_) &&
           (rule.alone == 0 || stands_alone(rule.alone, mention));
  }

  // All that stands between two marks: "Gold. Butter.", or with commas too, "oxidised, brown".
  bool stands_alone(std::uint8_t between, const Mention& mention) const {
    const std::uint16_t mark = bits(between == 1 ? Stop::comma : Stop::clause);
    const auto& tokens = work_.text.tokens;
    const auto parts = [&](std::uint32_t token) {   // the mark itself, or where it makes a start
      return work_.stop_at(token, mark) || work_.stop_at(token + 1, mark);
    };
    const std::uint32_t first = mention.first, last = mention.last;
    const bool opens = first == 0 || work_.stop_at(first, mark) ||
                       (tokens[first - 1].kind != text::TokenKind::word && work_.stop_at(first - 1, mark));
    const bool closes = last >= tokens.size() || work_.stop_at(last, mark) ||
                        (tokens[last].kind != text::TokenKind::word && parts(last));
    return opens && closes;
  }

  bool right_phase(const SenseRuleRecord& rule, const Mention& mention) const {
    return rule.phases == 0 ||
           (rule.phases & (1u << static_cast<unsigned>(work_.phases[mention.first]))) != 0;
  }

  bool contains(Range words, std::uint32_t token) const {
    if (token >= work_.known.size() || work_.known[token].id == 0) return false;
    const auto list = lexicon_.range(words);
    return std::find(list.begin(), list.end(), work_.known[token].id) != list.end();
  }

  bool right_words(const SenseRuleRecord& rule, const Mention& mention) const {
    const std::uint32_t before = mention.first == 0 ? lexicon::none : mention.first - 1;
    if (rule.next.count && !contains(rule.next, mention.last)) return false;
    if (rule.previous.count && !contains(rule.previous, before)) return false;
    if (rule.not_next.count && contains(rule.not_next, mention.last)) return false;
    if (rule.not_previous.count && contains(rule.not_previous, before)) return false;
    return true;
  }

  bool right_company(const SenseRuleRecord& rule, const Mention& mention) const {
    const auto has_kind = [&](std::uint32_t token, std::uint32_t kinds) {
      const Mention* other = work_.mention(token);
      return other && (other->kinds & kinds) != 0;
    };
    if (rule.next_kinds && !has_kind(mention.last, rule.next_kinds)) return false;
    if (rule.previous_kinds &&
        (mention.first == 0 || !has_kind(mention.first - 1, rule.previous_kinds)))
      return false;
    return rule.company == 0 || company(mention, rule.company) != nullptr;
  }

  const Mention* company(const Mention& mention, std::uint32_t kinds) const {
    constexpr auto clause = bits(Stop::clause);
    for (std::uint32_t t = mention.last; t < work_.token_count() && !work_.stop_at(t, clause); ++t)
      if (const Mention* other = work_.mention(t); other && (other->kinds & kinds)) return other;
    for (std::uint32_t t = mention.first; t > 0 && !work_.stop_at(t, clause); --t)
      if (const Mention* other = work_.mention(t - 1); other && (other->kinds & kinds)) return other;
    return nullptr;
  }

  // A capital at the start of a sentence, or in a note full of them, proves nothing.
  bool right_case(const SenseRuleRecord& rule, const Mention& mention) const {
    if (rule.capital == 0) return true;
    const Token& token = work_.text.tokens[mention.first];
    const bool capital = token.is(Token::capital) && !work_.title_case && mention.first != 0 &&
                         !work_.stop_at(mention.first, bits(Stop::clause));
    return capital == (rule.capital == 1);
  }

  // Each condition of a rule that holds, with the words that make it so.
  void trace(std::uint32_t index, const Mention& mention) const {
    const SenseRuleRecord& rule = lexicon_.sense_rules[index];
    std::vector<Decision>& held =
        work_.trace->senses[static_cast<std::size_t>(&mention - work_.mentions.data())];
    const auto add = [&](bool asked, Step step, std::uint32_t first, std::uint32_t last,
                         std::uint32_t what = lexicon::none) {
      if (asked) held.push_back({step, {}, first, last, what, {}, {}});
    };
    const auto add_mention = [&](Step step, std::uint32_t kinds, const Mention* other) {
      if (kinds != 0 && other) held.push_back({step, {}, other->first, other->last, kinds, {}, {}});
    };
    const std::uint32_t before = mention.first == 0 ? 0 : mention.first - 1;
    add(rule.next.count != 0, Step::next_word, mention.last, mention.last + 1);
    add(rule.previous.count != 0, Step::previous_word, before, mention.first);
    add_mention(Step::next_kind, rule.next_kinds, work_.mention(mention.last));
    add_mention(Step::previous_kind, rule.previous_kinds, work_.mention(before));
    if (rule.company != 0) add_mention(Step::company, rule.company, company(mention, rule.company));
    if (rule.phases != 0) {
      const std::uint32_t cue =
          work_.reach[static_cast<std::size_t>(Attribute::phase)][mention.first];
      const CueUse* use = cue == 0 ? nullptr : &work_.cues[cue - 1];
      add(true, Step::phase, use ? use->first : 0, use ? use->last : 0,
          static_cast<std::uint32_t>(work_.phases[mention.first]));
    }
    add(rule.first != 0, Step::first, first_perception_,
        std::min(first_perception_ + 1, work_.token_count()));
    add(rule.capital == 1, Step::capital, mention.first, mention.last);
    add(rule.capital == 2, Step::no_capital, mention.first, mention.last);
    add(rule.alone != 0, Step::alone, mention.first, mention.last);
  }

  const match::MatchIndex& index_;
  const CompiledLexicon& lexicon_;
  Workspace& work_;
  std::uint32_t first_perception_ = 0;
};

}  // namespace

void decide_senses(const match::MatchIndex& index, Workspace& work) {
  if (work.trace) work.trace->senses.assign(work.mentions.size(), {});
  const Chooser chooser(index, work);
  auto& decided = work.lists.decided;
  decided.resize(work.lists.claiming.size());
  std::size_t count = 0;
  for (const std::uint32_t claiming : work.lists.claiming) {
    chooser.decide(work.mentions[claiming]);
    decided[count] = claiming;
    count += work.mentions[claiming].decided ? 1u : 0u;
  }
  decided.resize(count);
}

}  // namespace racking::context
