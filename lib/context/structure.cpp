#include "context/structure.hpp"

#include <algorithm>
#include <cmath>

#include "context/scopes.hpp"

namespace racking::context {

using lexicon::CompiledLexicon;
using lexicon::CueRecord;
using lexicon::LevelRecord;
using lexicon::SenseKind;
using lexicon::Shift;
using lexicon::Stop;
using match::Mention;
using text::Token;
using text::TokenKind;

namespace {

constexpr int steps = 5;

std::uint8_t step(int value) { return static_cast<std::uint8_t>(std::clamp(value, 1, steps)); }

// "very" moves an interval one step outward in its own half, "slightly" one toward the middle.
// A single step keeps itself as well: writers' "very" and "quite" differ by about that much.
Interval shifted(Interval range, Shift shift) {
  const int low = range.low, high = range.high;
  const bool upper = low + high >= 6, single = low == high;
  switch (shift) {
    case Shift::up:
      if (upper) return {step(single ? low : std::min(low + 1, steps)), step(high + 1)};
      return {step(low - 1), step(single ? high : std::max(high - 1, 1))};
    case Shift::down:
      if (upper) return {step(low - 1), step(single ? high : high - 1)};
      return {step(single ? low : low + 1), step(high + 1)};
    case Shift::high: return {step((low + high + 1) / 2), range.high};
    case Shift::low: return {range.low, step((low + high) / 2)};
  }
  return range;
}

// What a negation leaves: "not tannic" is [1, 3]. Nothing if it leaves two sides.
std::optional<Interval> complement(Interval range) {
  constexpr int widest = 3;
  if (range.low == 1 && range.high == steps) return std::nullopt;
  if (range.high == steps)
    return Interval{step(range.low - widest), step(range.low - 1)};
  if (range.low == 1) return Interval{step(range.high + 1), step(range.high + widest)};
  return std::nullopt;
}

class Attacher {
 public:
  Attacher(const CompiledLexicon& lexicon, Workspace& work) : lexicon_(lexicon), work_(work) {}

  void attach() {
    work_.structures.clear();
    for (const std::uint32_t index : work_.lists.anchors) {
      Mention& mention = work_.mentions[index];
      if (claimed_otherwise(mention)) continue;
      if (const lexicon::Sense* anchor = anchor_sense(mention)) attach_anchor(mention, *anchor);
    }
    for (const std::uint32_t index : work_.lists.decided) attach_alone(work_.mentions[index]);
    constexpr auto earlier = [](const StructureUse& a, const StructureUse& b) {
      return a.first < b.first;
    };
    if (!std::is_sorted(work_.structures.begin(), work_.structures.end(), earlier))
      std::stable_sort(work_.structures.begin(), work_.structures.end(), earlier);
  }

 private:
  // A word such as "body" in a name is no anchor.
  static bool claimed_otherwise(const Mention& mention) {
    return mention.decided && mention.kind != SenseKind::anchor && mention.kind != SenseKind::level &&
           mention.kind != SenseKind::trait;
  }

  // An anchor may stand inside a cue: "nose of", "the finish is".
  const lexicon::Sense* anchor_sense(const Mention& mention) const {
    if (mention.may_be(SenseKind::anchor))
      return match::sense_of(lexicon_, mention.node, SenseKind::anchor);
    if (!mention.may_be(SenseKind::cue) || mention.last - mention.first < 2) return nullptr;
    for (std::uint32_t t = mention.first; t < mention.last; ++t)
      if (work_.known[t].kinds & kind_bit(SenseKind::anchor))
        return match::sense_of(lexicon_, work_.known[t].root, SenseKind::anchor);
    return nullptr;
  }

  const Mention* at(std::uint32_t token) const { return work_.mention(token); }
  std::string_view key(std::uint32_t token) const {
    return token < work_.token_count() ? work_.text.key(work_.text.tokens[token])
                                       : std::string_view{};
  }

  static bool is_level(const Mention* mention) {
    return mention && mention->decided && mention->may_be(SenseKind::level) &&
           (mention->kind == SenseKind::level || mention->kind == SenseKind::trait);
  }

  const LevelRecord& level(const Mention& mention) const {
    return lexicon_.levels[match::sense_of(lexicon_, mention.node, SenseKind::level)->index];
  }

  static std::optional<Interval> range_for(const LevelRecord& level, Dimension dimension) {
    const auto d = static_cast<std::size_t>(dimension);
    if (level.low[d] == 0) return std::nullopt;
    return Interval{level.low[d], level.high[d]};
  }

  bool is_modifier(const Mention* mention) const {
    return mention && mention->may_be(SenseKind::modifier) && !mention->is(SenseKind::descriptor);
  }

  Shift shift(const Mention& mention) const {
    return static_cast<Shift>(
        lexicon_.modifiers[match::sense_of(lexicon_, mention.node, SenseKind::modifier)->index]
            .shift);
  }

  // The first token of the modifiers that stand right before `first`.
  std::uint32_t modified_from(std::uint32_t first) const {
    while (first > 0 && !work_.stop_at(first, bits(Stop::comma))) {
      const Mention* before = at(first - 1);
      if (!is_modifier(before)) break;
      first = before->first;
    }
    return first;
  }

  // Where the range of `use` comes from: the words, and what the table says of them.
  void trace(StructureUse& use, Step step, std::uint32_t index, std::uint32_t first = 0,
             std::uint32_t last = 0) {
    if (!work_.trace) return;
    use.trace = work_.trace->start_structure();
    work_.trace->structure({step, {}, first, last, index, {}, use.range.value_or(Interval{})});
  }
  void trace_change(const StructureUse& use, Step step, std::uint32_t first, std::uint32_t last,
                    std::uint32_t index, Interval before, Interval after) const {
    if (work_.trace && use.trace != lexicon::none)
      work_.trace->structures[use.trace].push_back({step, {}, first, last, index, before, after});
  }

  // "not very tannic", "not quite dry": under a denial the word alone is what is ruled out.
  Interval modified(const StructureUse& use, std::uint32_t to, bool denied) {
    Interval range = *use.range;
    for (std::uint32_t t = use.first; t < to;) {
      Mention* mention = work_.mention(t);
      if (!is_modifier(mention)) { ++t; continue; }
      mention->used = true;
      if (denied) { t = mention->last; continue; }
      const Interval before = range;
      range = shifted(range, shift(*mention));
      trace_change(use, Step::shifted, mention->first, mention->last,
                   static_cast<std::uint32_t>(shift(*mention)), before, range);
      t = mention->last;
    }
    return range;
  }

  bool denied(std::uint32_t token) const {
    const CueRecord* cue = cue_over(lexicon_, work_, Attribute::stance, token);
    return cue && cue->stance == static_cast<std::uint8_t>(Stance::denied);
  }

  // Adds a reading of `dimension` from a level mention; true if it has one.
  bool add_level(Mention& mention, Dimension dimension, const Mention* anchor,
                 Step how = Step::level) {
    const LevelRecord& record = level(mention);
    std::optional<Interval> range = range_for(record, dimension);
    Dimension its = dimension;
    if (!range && record.alone != lexicon::unset &&
        (range = range_for(record, static_cast<Dimension>(record.alone))))
      its = static_cast<Dimension>(record.alone);
    if (!range && record.traits.count == 0) return false;
    StructureUse use;
    use.dimension = range ? its : dimension;
    use.first = modified_from(mention.first);
    use.last = mention.last;
    use.traits = record.traits;
    if (anchor) {
      use.anchor_first = anchor->first;
      use.anchor_last = anchor->last;
    }
    use.range = range;
    trace(use, how, mention_index(mention), use.anchor_first, use.anchor_last);
    if (range) use.range = modified(use, mention.first, is_ruled_out(mention));
    negate(use, mention);
    mention.used = true;
    work_.structures.push_back(use);
    return true;
  }

  std::uint32_t mention_index(const Mention& mention) const {
    return static_cast<std::uint32_t>(&mention - work_.mentions.data());
  }

  bool denies(const Mention& mention) const {
    if (!mention.may_be(SenseKind::cue)) return false;
    for (const lexicon::Sense& sense : lexicon_.senses_of(mention.node))
      if (sense.kind == SenseKind::cue &&
          lexicon_.cues[sense.index].stance == static_cast<std::uint8_t>(Stance::denied))
        return true;
    return false;
  }

  // The word by which a denial reaches the mention, or none. Either end counts: "never zips across
  // the palate" has a stop within. A cue inside its own words ("not much") has done its work there.
  std::uint32_t denied_at(const Mention& mention) const {
    if (denies(mention)) return lexicon::none;
    if (denied(mention.last - 1)) return mention.last - 1;
    return denied(mention.first) ? mention.first : lexicon::none;
  }
  bool is_ruled_out(const Mention& mention) const { return denied_at(mention) != lexicon::none; }

  void negate(StructureUse& use, const Mention& mention) const {
    const std::uint32_t token = denied_at(mention);
    if (!use.range || token == lexicon::none) return;
    const auto left = complement(*use.range);
    trace_denial(use, token, left);
    if (left) {
      use.range = left;
      use.left_by_denial = true;
    } else {
      use.range.reset();
      use.negated = true;
    }
    if (const auto reach =
            work_.reach[static_cast<std::size_t>(Attribute::stance)][mention.first])
      use.first = std::min(use.first, work_.cues[reach - 1].first);
  }

  void trace_denial(const StructureUse& use, std::uint32_t token,
                    std::optional<Interval> left) const {
    if (!work_.trace) return;
    const std::uint32_t reach = work_.reach[static_cast<std::size_t>(Attribute::stance)][token];
    const CueUse& cue = work_.cues[reach - 1];
    trace_change(use, left ? Step::denial_leaves : Step::denial_open, cue.first, cue.last,
                 reach - 1, *use.range, left.value_or(*use.range));
  }

  // ---- around an anchor ----

  void attach_anchor(Mention& anchor, const lexicon::Sense& sense) {
    const auto dimension = static_cast<Dimension>(lexicon_.anchors[sense.index].dimension);
    const std::size_t first_reading = work_.structures.size();
    bool found = !opens_with_article(anchor) && levels_before(anchor, dimension);
    found = levels_after(anchor, dimension, found) || found;
    if (!found) found = score_beside(anchor, dimension);
    if (!found) found = levels_further(anchor, dimension);
    if (!found && denied(anchor.last - 1) && !anchor.may_be(SenseKind::level) &&
        !is_heading_word(anchor))
      add_absence(anchor, dimension);
    if (found) anchor.used = true;
    reconcile(first_reading);
  }

  // "the acid here is high", "… about the alcohol. They needn't have: it is moderate", "of the body
  // all one can say is that it stays medium": the next verb that links, with a small word for its
  // subject, as far as the end of the next sentence.
  bool levels_further(const Mention& anchor, Dimension dimension) {
    constexpr std::uint32_t most_words = 24;
    if (is_heading_word(anchor)) return false;
    bool next_sentence = false;
    std::uint32_t t = anchor.last;
    for (std::uint32_t words = 0; words < most_words && t < work_.token_count(); ++words) {
      if ((work_.stops[t] & sentence_stop) && work_.text.tokens[t].kind == TokenKind::word) {
        if (next_sentence || (work_.stops[t] & bits(Stop::line))) return false;
        next_sentence = true;
      }
      const Mention* mention = at(t);
      if (!mention || mention->first != t) { ++t; continue; }
      if (mention->may_be(SenseKind::anchor) || mention->is(SenseKind::descriptor) ||
          mention->is(SenseKind::hue))
        return false;
      if (links(*mention) && small_subject(t)) {
        const std::uint32_t to = past_insertion(mention->last);
        const std::uint32_t first = past_adverbs(to);
        if (is_level_at(first) && speaks_of(first, dimension) && !followed_by_anchor(first))
          return collect_after(anchor, dimension, to);
      }
      if (mention->is(SenseKind::phrase) || (is_level(mention) && range_for(level(*mention), dimension)))
        return false;
      t = mention->last;
    }
    return false;
  }

  // A verb that links, by itself or at the end of words that turn to this wine: "is", "here is".
  bool links(const Mention& mention) const {
    return (work_.stops[mention.first] & bits(Stop::copula)) ||
           (!mention.decided && mention.last - mention.first > 1 &&
            is_stop(mention.last - 1, Stop::copula));
  }

  // "it is", "they're", "here is": no noun of another thing before the verb at `token`.
  bool small_subject(std::uint32_t token) const {
    if (token == 0 || work_.stop_at(token, bits(Stop::comma))) return true;
    if (const Mention* verb = at(token); verb && verb->last - verb->first > 1) return true;
    const std::uint32_t before = token - 1;
    const Token& word = work_.text.tokens[before];
    if (word.kind != TokenKind::word) return true;
    if (work_.stops[before] & (bits(Stop::determiner) | bits(Stop::preposition))) return false;
    for (const lexicon::Sense& sense : lexicon_.senses_of(work_.known[before].root))
      if (sense.kind == SenseKind::known) return lexicon_.knowns[sense.index].is_talk == 0;
    return false;
  }

  // ", in a word," between a verb and its level.
  std::uint32_t past_insertion(std::uint32_t token) const {
    if (token >= work_.token_count() || key(token) != ",") return token;
    const Parenthesis aside = parenthesis(token);
    return aside.is_plain ? aside.end : token;
  }

  // Whether the level behind the modifiers at `token` has a step for it.
  bool speaks_of(std::uint32_t token, Dimension dimension) const {
    while (is_modifier(at(token))) token = at(token)->last;
    return range_for(level(*at(token)), dimension).has_value();
  }

  // "firm, not harsh": what is denied beside a level of the same noun only rules out.
  void reconcile(std::size_t first) {
    for (std::size_t i = first; i < work_.structures.size(); ++i) {
      StructureUse& denial = work_.structures[i];
      if (!denial.left_by_denial || !denial.range) continue;
      for (std::size_t k = first; k < work_.structures.size(); ++k) {
        const StructureUse& other = work_.structures[k];
        if (k == i || !other.range || other.left_by_denial || other.dimension != denial.dimension)
          continue;
        if (denial.range->low <= other.range->high && other.range->low <= denial.range->high)
          continue;
        trace_change(denial, Step::denial_only, other.first, other.last, lexicon::none,
                     *denial.range, *other.range);
        denial.range.reset();
        denial.negated = true;
        break;
      }
    }
  }

  // "the finish is": what stands before the article is of something else.
  bool opens_with_article(const Mention& anchor) const {
    return anchor.last - anchor.first >= 2 && is_stop(anchor.first, Stop::determiner);
  }

  bool ends_with_verb(const Mention& anchor) const {
    return anchor.last - anchor.first >= 2 && is_stop(anchor.last - 1, Stop::verb);
  }

  // Whether the word at `token`, by itself, stops scopes so.
  bool is_stop(std::uint32_t token, Stop stop) const {
    if ((work_.known[token].kinds & kind_bit(SenseKind::cue)) == 0) return false;
    for (const lexicon::Sense& sense : lexicon_.senses_of(work_.known[token].root))
      if (sense.kind == SenseKind::cue && (lexicon_.cues[sense.index].is_stop & bits(stop)))
        return true;
    return false;
  }

  bool is_heading_word(const Mention& anchor) const {
    return key(anchor.last) == ":" || dimension_is_place(anchor);
  }
  // "no oak on the nose" denies no nose.
  bool dimension_is_place(const Mention& anchor) const {
    return anchor.may_be(SenseKind::cue);
  }

  void add_absence(Mention& anchor, Dimension dimension) {
    StructureUse use;
    use.dimension = dimension;
    use.first = anchor.first;
    use.last = anchor.last;
    use.range = Interval{1, 1};
    if (const auto reach =
            work_.reach[static_cast<std::size_t>(Attribute::stance)][anchor.last - 1]) {
      const CueUse& cue = work_.cues[reach - 1];
      use.first = std::min(use.first, cue.first);
      trace(use, Step::absence, reach - 1, anchor.first, anchor.last);
    }
    anchor.used = true;
    work_.structures.push_back(use);
  }

  bool levels_before(Mention& anchor, Dimension dimension) {
    constexpr std::uint16_t walls = bits(Stop::clause) | bits(Stop::verb) |
                                    bits(Stop::preposition) | bits(Stop::determiner) |
                                    bits(Stop::frame) | bits(Stop::contrast);
    bool found = false;
    int plain_words = 0;
    bool after_comma = false, passed_anchor = false;
    std::uint32_t t = anchor.first;
    // "racy in acidity", "long on the finish"
    // … "lively in its bubbles"
    const std::uint32_t noun = t >= 3 && (work_.stops[t - 1] & bits(Stop::determiner)) ? t - 1 : t;
    if (noun >= 2 && (work_.stops[noun - 1] & bits(Stop::place)) && is_level(at(noun - 2)) &&
        range_for(level(*at(noun - 2)), dimension))
      t = noun - 1;
    const std::uint32_t from = t;
    while (t > 0) {
      if (t < from && work_.stop_at(t, walls) &&
          !opens_with_level(t) && !(joins(t) && !work_.stop_at(t, 0)))
        break;
      if (t == anchor.first && work_.stop_at(t, bits(Stop::clause))) break;
      const std::uint32_t before = t - 1;
      if (key(before) == ",") { after_comma = true; t = before; continue; }
      Mention* mention = work_.mention(before);
      if (is_level(mention)) {
        if (work_.stop_at(mention->first, walls) && mention->may_be(SenseKind::cue) && found &&
            !range_for(level(*mention), dimension))
          break;
        // What an anchor further left has taken from its right is spent: "tannins firm but
        // fine, acidity fresh".
        if (mention->used && !passed_anchor) break;
        if (belongs_to_anchor_before(*mention)) break;
        // "sweet, searing acidity": behind a comma a word with a dimension of its own keeps it.
        if (after_comma && speaks_alone(*mention, dimension)) {
          t = mention->first;
          continue;
        }
        found = add_level(*mention, dimension, &anchor) || found;
        t = modified_from(mention->first);
        after_comma = false;
        continue;
      }
      const bool listed = passed_anchor || shares_with_next(anchor);
      if (!passes(mention, before, after_comma, plain_words, found, listed)) break;
      passed_anchor = passed_anchor || (mention && mention->may_be(SenseKind::anchor));
      t = mention ? mention->first : before;
    }
    return found;
  }

  bool speaks_alone(const Mention& mention, Dimension dimension) const {
    const std::uint8_t alone = level(mention).alone;
    return alone != lexicon::unset && alone != static_cast<std::uint8_t>(dimension);
  }

  // A level may itself be a word that stops scopes ("shows plenty of").
  bool opens_with_level(std::uint32_t token) const {
    const Mention* mention = at(token);
    return mention && mention->first == token && is_level(mention);
  }

  // "acidity high, tannins firm": "high" is of the anchor right before it.
  bool belongs_to_anchor_before(const Mention& mention) const {
    const std::uint32_t first = modified_from(mention.first);
    if (first == 0 || work_.stop_at(first, bits(Stop::comma))) return false;
    const Mention* before = at(first - 1);
    const bool own = before && before->may_be(SenseKind::anchor) && !before->may_be(SenseKind::cue);
    return own && key(mention.last) == ",";
  }

  // What may stand between a level and its anchor: other adjectives and small words.
  bool passes(const Mention* mention, std::uint32_t token, bool after_comma, int& plain_words,
              bool found, bool listed) const {
    constexpr int most_plain_words = 3;
    if (work_.text.tokens[token].kind != TokenKind::word) return false;
    if (!mention) return ++plain_words <= most_plain_words && !after_comma;
    if (mention->may_be(SenseKind::anchor))
      return !found && (joins(token + 1) || (listed && key(token + 1) == ","));
    if (mention->is(SenseKind::trait)) return true;
    if (mention->is(SenseKind::descriptor)) {
      const lexicon::Sense* sense =
          match::sense_of(lexicon_, mention->node, SenseKind::descriptor);
      const bool adjective =
          sense && (sense->flags & (lexicon::Sense::derived | lexicon::Sense::adjective));
      return adjective || (!after_comma && !found);
    }
    if (mention->decided) return false;
    if (joins(token)) return true;
    if (is_modifier(mention)) return true;
    return ++plain_words <= most_plain_words && !after_comma;
  }

  // "medium acidity, body and finish": a bare noun in a list of them.
  bool shares_with_next(const Mention& anchor) const {
    const Mention* next = joins(anchor.last) ? at(anchor.last + 1) : nullptr;
    return next && next->may_be(SenseKind::anchor) && !is_level(next);
  }

  bool joins(std::uint32_t token) const {
    return token < work_.token_count() &&
           (work_.stops[token] & bits(Stop::conjunction)) != 0;
  }

  bool levels_after(Mention& anchor, Dimension dimension, bool found_before) {
    std::uint32_t t = anchor.last;
    if (t >= work_.token_count() || (work_.stops[t] & sentence_stop)) return false;
    // "the finish is": the verb is inside the cue.
    if (ends_with_verb(anchor)) return collect_after(anchor, dimension, t);
    if (key(t) == ":" || key(t) == "=" || (key(t) == "-" && !found_before))
      return collect_after(anchor, dimension, t + 1);
    // "Tannins? Firm and ripe."
    if (key(t) == "?" && !found_before && is_level_at(t + 1) && !followed_by_anchor(t + 1))
      return collect_after(anchor, dimension, t + 1);
    // "its mousse, so lively in the glass, is gentle": what stands between commas is of it too.
    bool found = false;
    const Parenthesis aside = parenthesis(t);
    if (aside.verb_follows && key(t) == "," && is_level_at(t + 1) && !followed_by_anchor(t + 1))
      found = collect_after(anchor, dimension, t + 1);
    if (const std::uint32_t linked = past_link(t, found_before); linked != 0)
      return collect_after(anchor, dimension, linked) || found;
    if (found_before) return found;
    if (const std::uint32_t shared = past_shared_nouns(t); shared != t) {
      if (const std::uint32_t linked = past_link(shared, true); linked != 0)
        return collect_after(anchor, dimension, linked);
      t = shared;
    } else if (aside.is_plain) {
      t = aside.end;
    }
    const std::uint32_t level = past_adverbs(t);
    if (!is_level_at(level) || followed_by_anchor(level)) return found;
    return collect_after(anchor, dimension, t) || found;
  }

  // "tannins now firm", "acidity always high": past small words that are of no other part.
  std::uint32_t past_adverbs(std::uint32_t token) const {
    constexpr std::uint32_t most_words = 2;
    constexpr std::uint16_t walls = bits(Stop::clause) | bits(Stop::comma) | bits(Stop::verb) |
                                    bits(Stop::preposition) | bits(Stop::determiner) | bits(Stop::conjunction) |
                                    bits(Stop::contrast) | bits(Stop::negation) | bits(Stop::frame) | bits(Stop::phase);
    std::uint32_t t = token;
    for (std::uint32_t words = 0; words < most_words && !is_level_at(t); ++words) {
      if (work_.stop_at(t, walls) || work_.text.tokens[t].kind != TokenKind::word) return token;
      const Mention* mention = at(t);
      if (mention && (mention->decided || mention->may_be(SenseKind::anchor))) return token;
      t = mention ? mention->last : t + 1;
    }
    return t;
  }

  // What stands between two marks behind a noun: ", after all that waiting,", "(again)".
  struct Parenthesis {
    std::uint32_t end = 0;          // behind the second mark; where it would open if there is none
    bool is_plain = false;          // no level, smell or noun of ours in it
    bool verb_follows = false;      // and the noun's verb right behind
  };

  Parenthesis parenthesis(std::uint32_t token) const {
    constexpr std::uint32_t fewest = 12, longest = 28;
    const bool bracket = key(token) == "(";
    const std::uint32_t most_words = opens_parenthesis(token + 1) ? longest : fewest;
    Parenthesis found{token, true, false};
    if (!bracket && key(token) != ",") return {token, false, false};
    bool nouns = false;
    for (std::uint32_t t = token + 1; t < work_.token_count() && t <= token + most_words; ++t) {
      const std::string_view mark = key(t);
      if (mark == (bracket ? ")" : ",")) {
        found.end = t + 1;
        found.verb_follows = (bracket || !nouns || opens_parenthesis(token + 1)) &&
                             copula_from(found.end) != 0;
        return found;
      }
      if (work_.stop_at(t, bracket ? 0 : bits(Stop::clause))) break;
      const Mention* mention = at(t);
      if (!mention) continue;
      const bool noun = mention->may_be(SenseKind::anchor);
      nouns = nouns || noun;
      if (noun || is_level(mention) || mention->is(SenseKind::descriptor)) found.is_plain = false;
    }
    return {token, false, false};
  }

  // "which", "for a wine so old", "and I had been warned".
  bool opens_parenthesis(std::uint32_t token) const {
    constexpr std::uint16_t openers =
        bits(Stop::preposition) | bits(Stop::contrast) | bits(Stop::conjunction);
    return token < work_.token_count() && (work_.stops[token] & openers) != 0;
  }

  // Behind the verb that links a noun with its level, at `token` or a small word later; 0 if none.
  std::uint32_t copula_from(std::uint32_t token) const {
    constexpr std::uint32_t most_words = 2;
    for (std::uint32_t words = 0; words < most_words && token < work_.token_count(); ++words) {
      if (work_.stop_at(token, bits(Stop::clause)) || key(token) == ",") return 0;
      const Mention* mention = at(token);
      if (mention && (work_.stops[mention->first] & bits(Stop::verb)))
        return (work_.stops[mention->first] & bits(Stop::copula)) ? mention->last : 0;
      if (mention && (mention->decided || (work_.stops[mention->first] & bits(Stop::determiner))))
        return 0;
      token = mention ? mention->last : token + 1;
    }
    return 0;
  }

  // Behind the verb that links the noun before `from` with its level: "tannins, which are",
  // "the finish of this bottle is", "acidity, for a wine so old, remains". 0 if none does.
  std::uint32_t past_link(std::uint32_t from, bool near_only) const {
    constexpr std::uint32_t most_words = 7;
    bool in_phrase = false, after_conjunction = false;
    std::uint32_t t = from;
    for (std::uint32_t words = 0; words < (near_only ? 2 : most_words); ++words) {
      if (key(t) == "," || key(t) == "(") {
        const Parenthesis aside = parenthesis(t);
        if (aside.end != t && (aside.is_plain || aside.verb_follows) && !near_only) {
          t = aside.end;
          if (aside.verb_follows) return copula_from(t);
        } else if (key(t) == "," && t == from) {
          ++t;                           // "tannins, which are ripe"
        }
      }
      if (t >= work_.token_count() || work_.stop_at(t, bits(Stop::clause)) || key(t) == ",") return 0;
      const Mention* mention = at(t);
      if (!mention) {
        if (near_only || work_.text.tokens[t].kind != TokenKind::word) return 0;
        after_conjunction = false;
        ++t;
        continue;
      }
      const std::uint16_t stops = work_.stops[mention->first];
      if (stops & bits(Stop::verb)) return (stops & bits(Stop::copula)) ? mention->last : 0;
      if (is_level(mention) || mention->may_be(SenseKind::anchor)) return 0;
      if (mention->decided && !in_phrase) return 0;
      const bool relative = words == 0;
      if ((stops & bits(Stop::contrast)) && !relative) return 0;
      if ((stops & bits(Stop::determiner)) && !relative && (after_conjunction || !in_phrase)) return 0;
      if ((stops & bits(Stop::determiner)) && !relative && is_verb_at(mention->last)) return 0;
      if ((stops & bits(Stop::conjunction)) && !in_phrase) return 0;
      after_conjunction = (stops & bits(Stop::conjunction)) != 0;
      in_phrase = in_phrase || (!near_only && (stops & bits(Stop::preposition)) != 0);
      t = mention->last;
    }
    return 0;
  }

  bool is_verb_at(std::uint32_t token) const {
    return token < work_.token_count() && (work_.stops[token] & bits(Stop::verb)) != 0;
  }

  // "acid and alcohol are high", "body, acidity and tannin all medium": past the other nouns.
  std::uint32_t past_shared_nouns(std::uint32_t from) const {
    std::uint32_t end = from;
    for (std::uint32_t t = from; t < work_.token_count();) {
      bool joined = false;
      while (t < work_.token_count() && (key(t) == "," || joins(t) ||
                                         (joined && (work_.stops[t] & bits(Stop::determiner))))) {
        joined = true;
        ++t;
      }
      const Mention* noun = at(t);
      if (!joined || !noun || noun->first != t || !noun->may_be(SenseKind::anchor) ||
          is_level(noun) || work_.stop_at(t, bits(Stop::clause)))
        return end;
      end = t = noun->last;
    }
    return end;
  }

  bool is_level_at(std::uint32_t token) const {
    std::uint32_t t = token;
    while (is_modifier(at(t)) && at(t)->first == t) t = at(t)->last;
    return is_level(at(t));
  }

  bool followed_by_anchor(std::uint32_t token) const {
    std::uint32_t t = token;
    while (const Mention* mention = at(t)) {
      if (mention->may_be(SenseKind::anchor)) return true;
      if (!is_level(mention) && !is_modifier(mention)) return mention->is(SenseKind::descriptor);
      t = mention->last;
    }
    return false;
  }

  bool collect_after(const Mention& anchor, Dimension dimension, std::uint32_t t) {
    constexpr std::uint16_t walls = bits(Stop::clause) | bits(Stop::preposition) |
                                    bits(Stop::frame) | bits(Stop::phase) | bits(Stop::verb) |
                                    bits(Stop::determiner);
    constexpr int most_plain_words = 2;
    bool found = false;
    int plain_words = 0;
    if (const Parenthesis aside = parenthesis(t); aside.is_plain) t = aside.end;
    const std::uint32_t start = t;
    while (t < work_.token_count()) {
      if (t > start && work_.stop_at(t, walls) && !is_level(at(t))) {
        // "start soft, then turn drying": the same noun goes on.
        const std::uint32_t on = found && !work_.stop_at(t, bits(Stop::clause)) ? copula_from(t) : 0;
        if (on == 0 || at(t)->first != t) break;
        t = on;
        continue;
      }
      if (t == start && work_.stop_at(t, 0) && key(t - 1) != "?") break;
      const std::string_view mark = key(t);
      if (mark == ",") { ++t; continue; }
      Mention* mention = work_.mention(t);
      if (is_level(mention)) {
        if (found && followed_by_anchor(t)) break;
        found = add_level(*mention, dimension, &anchor) || found;
        t = mention->last;
        continue;
      }
      if (mention && (mention->may_be(SenseKind::anchor) || mention->is(SenseKind::phrase) ||
                      mention->is(SenseKind::descriptor) || mention->is(SenseKind::hue)))
        break;
      if (work_.text.tokens[t].kind != TokenKind::word) break;
      if (!is_modifier(mention) && !joins(t) && !(mention && mention->is(SenseKind::trait)) &&
          ++plain_words > most_plain_words)
        break;
      t = mention ? mention->last : t + 1;
    }
    return found;
  }

  // "tannin 4/5", "acidity 3-4 out of 5", "body, out of five: 4": a mark on somebody's own scale.
  bool score_beside(const Mention& anchor, Dimension dimension) {
    std::uint32_t after = anchor.last;
    if (key(after) == ":" || key(after) == "=" || key(after) == "-" || key(after) == ",") ++after;
    for (const match::FoundQuantity& use : work_.quantities) {
      const bool before = use.last == anchor.first && !follows_anchor(use.first);
      if ((use.first != after && !before) || use.quantity.kind != QuantityKind::score ||
          !use.quantity.out_of)
        continue;
      const std::optional<double> low = use.quantity.value ? use.quantity.value : use.quantity.low;
      const std::optional<double> high = use.quantity.value ? use.quantity.value : use.quantity.high;
      if (!low || !high) continue;
      StructureUse reading;
      reading.dimension = dimension;
      reading.first = std::min(anchor.first, use.first);
      reading.last = std::max(anchor.last, use.last);
      const double of = *use.quantity.out_of;
      reading.range = Interval{step(static_cast<int>(std::floor(*low / of * steps))),
                               step(static_cast<int>(std::ceil(*high / of * steps)))};
      trace(reading, Step::score, use.measure, use.first, use.last);
      work_.structures.push_back(reading);
      return true;
    }
    return false;
  }

  // "tannin 4/5 acid 3/5": the first mark is of the noun before it.
  bool follows_anchor(std::uint32_t token) const {
    if (token > 0 && work_.text.tokens[token - 1].kind != TokenKind::word) --token;
    const Mention* before = token > 0 ? at(token - 1) : nullptr;
    return before && before->may_be(SenseKind::anchor);
  }

  // ---- without an anchor ----

  void attach_alone(Mention& mention) {
    if (mention.used) return;
    if (mention.kind == SenseKind::phrase) {
      add_phrase(mention);
    } else if (is_level(&mention)) {
      const LevelRecord& record = level(mention);
      if (record.alone != lexicon::unset && !describes_aroma(mention))
        add_level(mention, static_cast<Dimension>(record.alone), nullptr, Step::level_alone);
      else if (const std::uint8_t fragment = fragment_dimension(record, mention);
               fragment != lexicon::unset &&
                   is_fragment(mention, static_cast<Dimension>(fragment)))
        add_level(mention, static_cast<Dimension>(fragment), nullptr, Step::level_fragment);
    }
  }

  // What a level speaks of as a whole fragment: what it says, or the finish if it has no other
  // ("v. long").
  std::uint8_t fragment_dimension(const LevelRecord& level, const Mention& mention) const {
    constexpr auto finish = static_cast<std::uint8_t>(Dimension::finish);
    // "Finish: almond, medium."
    if (work_.phases[mention.first] == Phase::finish && level.low[finish] != 0) return finish;
    if (level.fragment != lexicon::unset) return level.fragment;
    for (std::uint8_t d = 0; d < dimension_count; ++d)
      if ((level.low[d] != 0) != (d == finish)) return lexicon::unset;
    return finish;
  }

  // All that stands between two marks: "Plum; crisp, long.", "Firm and long.", "It's big, ".
  bool is_fragment(const Mention& mention, Dimension dimension) const {
    const auto& tokens = work_.text.tokens;
    std::uint32_t first = mention.first, last = mention.last;
    while (!opens_fragment(first)) {
      if (says_of_the_wine(first)) break;
      if (!is_of_fragment(at(first - 1))) return false;
      first = at(first - 1)->first;
    }
    while (!work_.stop_at(last, bits(Stop::comma)) && tokens[last].kind == TokenKind::word) {
      if (!is_of_fragment(at(last))) return false;
      last = at(last)->last;
    }
    if (key(last) == ":") return false;
    if (dimension != Dimension::sparkle) return true;
    // "Still good", "Still, we drank it": there it is no word of sparkle.
    const bool goes_on = mention.last < last && !joins(mention.last);
    const bool new_subject = key(last) == "," && last + 1 < tokens.size() &&
                             (work_.stops[last + 1] & bits(Stop::determiner)) != 0;
    return !goes_on && !new_subject;
  }

  bool opens_fragment(std::uint32_t token) const {
    return token == 0 || work_.stop_at(token, bits(Stop::comma)) ||
           work_.text.tokens[token - 1].kind != TokenKind::word;
  }

  // "it's", "it is", "this wine is" at the start of a clause, up to `end`.
  bool says_of_the_wine(std::uint32_t end) const {
    const Mention* verb = at(end - 1);
    if (!verb || verb->last != end) return false;
    const auto starts = [&](std::uint32_t token) {
      return opens_fragment(token) || joins(token - 1) ||
             (work_.stops[token - 1] & bits(Stop::contrast)) != 0;
    };
    const auto is_subject = [&](const Mention* mention) {
      return mention && mention->last - mention->first > 1 && !mention->decided &&
             (work_.stops[mention->first] & bits(Stop::contrast)) && starts(mention->first);
    };
    if (is_subject(verb)) return true;
    if ((work_.stops[verb->first] & bits(Stop::copula)) == 0) return false;
    if (verb->first > 0 && is_subject(at(verb->first - 1))) return true;
    return starts(verb->first);
  }

  bool is_of_fragment(const Mention* mention) const {
    if (!mention) return false;
    if (is_level(mention) || is_modifier(mention) || mention->is(SenseKind::trait)) return true;
    if (mention->decided) return false;
    return mention->last - mention->first == 1 && (joins(mention->first) || denies(*mention));
  }

  // "sweet, chocolaty flavours": an adjective of smell from `token`, then a word for smells.
  bool describes_flavours(std::uint32_t token) const {
    const Mention* smell = at(token);
    if (!smell || !smell->is(SenseKind::descriptor)) return false;
    const Mention* noun = at(smell->last);
    if (!noun || !noun->may_be(SenseKind::cue) || work_.stop_at(smell->last, bits(Stop::comma)))
      return false;
    for (const lexicon::Sense& sense : lexicon_.senses_of(noun->node)) {
      if (sense.kind != SenseKind::cue) continue;
      const std::uint8_t phase = lexicon_.cues[sense.index].phase;
      if (phase == static_cast<std::uint8_t>(Phase::nose) ||
          phase == static_cast<std::uint8_t>(Phase::palate))
        return true;
    }
    return false;
  }

  // "crisp apple" speaks of the apple.
  bool describes_aroma(const Mention& mention) const {
    if (key(mention.last) == ",") return describes_flavours(mention.last + 1);
    const Mention* next = at(mention.last);
    if (!next || next->first != mention.last || work_.stop_at(mention.last, bits(Stop::comma)))
      return false;
    if (next->is(SenseKind::descriptor)) return true;
    return is_level(next) && describes_aroma(*next);
  }

  void add_phrase(Mention& mention) {
    const lexicon::PhraseRecord& phrase = lexicon_.phrases[mention.index];
    if (phrase.dimension == lexicon::unset) return;   // a trait of the whole
    StructureUse use;
    use.dimension = static_cast<Dimension>(phrase.dimension);
    use.first = modified_from(mention.first);
    use.last = mention.last;
    use.traits = phrase.traits;
    if (phrase.low != 0) use.range = Interval{phrase.low, phrase.high};
    trace(use, Step::phrase, mention_index(mention));
    if (use.range) use.range = modified(use, mention.first, is_ruled_out(mention));
    negate(use, mention);
    mention.used = true;
    work_.structures.push_back(use);
  }

  const CompiledLexicon& lexicon_;
  Workspace& work_;
};

}  // namespace

void attach_structure(const CompiledLexicon& lexicon, Workspace& work) {
  Attacher(lexicon, work).attach();
}

}  // namespace racking::context
