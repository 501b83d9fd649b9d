#include "context/scopes.hpp"

#include <algorithm>


namespace racking::context {

using lexicon::CompiledLexicon;
using lexicon::CueRecord;
using lexicon::Role;
using lexicon::SenseKind;
using lexicon::Stop;
using match::Mention;
using text::Token;
using text::TokenKind;

namespace {

// What makes the words before a cue something it can speak of.
constexpr std::uint32_t content_kinds =
    kind_bit(SenseKind::descriptor) | kind_bit(SenseKind::phrase) | kind_bit(SenseKind::anchor) |
    kind_bit(SenseKind::hue) | kind_bit(SenseKind::fault);

// What a cue marks as its own start; it stops other cues only.
constexpr std::uint16_t own_marks = bits(Stop::phase) | bits(Stop::frame);
// What a clause may open with.
constexpr std::uint16_t openers =
    bits(Stop::clause) | bits(Stop::comma) | bits(Stop::contrast) | own_marks;

class Painter {
 public:
  Painter(std::string_view text, const match::MatchIndex& index, Workspace& work)
      : text_(text), index_(index), lexicon_(index.lexicon()), work_(work) {}

  void paint() {
    clear();
    collect();
    drop_uncontrasted();
    for (const CueUse& use : work_.cues) mark_own_stops(use);
    paint_headings();
    for (std::uint32_t index = 0; index < work_.cues.size(); ++index) paint_cue(index);
    for (std::uint32_t index = 0; index < work_.cues.size(); ++index)
      if (role(record(work_.cues[index])) == Role::around) paint_around(index);
    settle();
  }

 private:
  const CueRecord& record(const CueUse& use) const { return lexicon_.cues[use.record]; }
  static Role role(const CueRecord& cue) { return static_cast<Role>(cue.role); }

  void clear() {
    work_.cues.clear();
    for (auto& tokens : work_.reach) tokens.assign(work_.token_count(), 0);
  }

  void collect() {
    for (const std::uint32_t index : work_.lists.cues) {
      const Mention& mention = work_.mentions[index];
      if (!mention.may_be(SenseKind::cue)) {
        collect_inside(mention);
        continue;
      }
      const bool heading =
          (mention.kinds & match::MatchIndex::heads) != 0 && is_heading(mention);
      const bool answer = (mention.kinds & match::MatchIndex::placed) != 0 && answers(mention);
      for (const lexicon::Sense& sense : lexicon_.senses_of(mention.node)) {
        if (sense.kind != SenseKind::cue) continue;
        const Role its = role(lexicon_.cues[sense.index]);
        if (its == Role::stop || its == Role::decoy) continue;
        // Where a word heads a section it does nothing else.
        if ((its == Role::heading) != heading) continue;
        // What answers does nothing else.
        const bool replies = its == Role::reply || its == Role::verdict;
        if (replies != answer || (its == Role::subject && !has_verb(mention.last))) continue;
        work_.cues.push_back({mention.first, mention.last, sense.index, false});
      }
    }
    constexpr auto earlier = [](const CueUse& a, const CueUse& b) { return a.first < b.first; };
    if (!std::is_sorted(work_.cues.begin(), work_.cues.end(), earlier))
      std::stable_sort(work_.cues.begin(), work_.cues.end(), earlier);
  }

  // "The 2014 was plum": of another wine only where the note speaks of its own beside it.
  void drop_uncontrasted() {
    const auto contrasts = [&](const CueUse& use) { return record(use).contrasted == 1; };
    if (std::none_of(work_.cues.begin(), work_.cues.end(), contrasts)) return;
    std::uint32_t first = work_.token_count();
    for (const Mention& mention : work_.mentions)
      if ((mention.kinds & told_kinds) != 0) {
        first = mention.first;
        break;
      }
    std::erase_if(work_.cues, [&](const CueUse& use) {
      return contrasts(use) &&
             (mark(use.last) == ':' ||   // it heads a note of its own
              (first >= begin_of(use.first, bits(Stop::clause)) && !comes_home(use)));
    });
  }

  // Where what `token` stands in begins; a sentence if there are no `stops`.
  std::uint32_t begin_of(std::uint32_t token, std::uint16_t stops = 0) const {
    std::uint32_t steps = 0;
    while (token > 0 && !work_.stop_at(token, stops) && ++steps < look_around) --token;
    return token;
  }

  // Further on the note turns to its own wine, and says something of it: "mine is plum", or, in a
  // clause of its own, "once they had gone: plum". What names another wine in so many words leaves
  // the next sentence to this one if that tells a smell: "Paolo's was tar. Roses, plum."
  bool comes_home(const CueUse& use) const {
    const bool names_it = use.last - use.first > 1 && !counts(use);
    bool home = false, away = false, next = false;
    const std::uint32_t end = std::min(work_.token_count(), use.last + look_around);
    for (std::uint32_t t = use.last; t < end; ++t) {
      if (work_.stops[t] & sentence_stop) {
        home = false;
        next = names_it && t > use.last;
      }
      away = away || work_.stop_at(t, bits(Stop::clause) | bits(Stop::turn));
      home = home || (work_.stops[t] & bits(Stop::home)) != 0 || (away && mark(t) == ':');
      if (!home && !next) continue;
      const Mention* mention = work_.mention(t);
      if (!mention || (mention->kinds & told_kinds) == 0) continue;
      if (home || mention->may_be(SenseKind::descriptor)) return true;
      next = false;
    }
    return false;
  }

  // "Wine three", "the 2014": one of several, and perhaps this one.
  bool counts(const CueUse& use) const {
    for (std::uint32_t t = use.first; t < use.last; ++t) {
      if (work_.text.tokens[t].kind == TokenKind::number) return true;
      if ((index_.tells_of(work_.known[t]) & bit(lexicon::Tell::ordinal)) != 0) return true;
    }
    return false;
  }

  // "finishing dry" is a phrase, and "finishing" in it still says which part it is of.
  void collect_inside(const Mention& mention) {
    for (std::uint32_t first = mention.first; first < mention.last; ++first) {
      const match::KnownWord& word = work_.known[first];
      if ((word.kinds & match::MatchIndex::acts) == 0 || is_in_compound(mention, first)) continue;
      for (const lexicon::Sense& sense : lexicon_.senses_of(word.root))
        if (sense.kind == SenseKind::cue && lexicon_.cues[sense.index].phase != lexicon::unset &&
            (role(lexicon_.cues[sense.index]) == Role::both ||
             (role(lexicon_.cues[sense.index]) == Role::forward && first == mention.first)))
          work_.cues.push_back({first, first + 1, sense.index, first == mention.first});
    }
  }

  // "mouth-watering" speaks of no mouth.
  bool is_in_compound(const Mention& mention, std::uint32_t token) const {
    const auto& tokens = work_.text.tokens;
    return tokens[token].is(Token::joined_before) ||
           (token + 1 < mention.last && tokens[token + 1].is(Token::joined_before));
  }

  char mark(std::uint32_t token) const {
    return token < work_.token_count() ? text_[work_.text.tokens[token].span.begin] : '\0';
  }

  // A heading opens a line, sentence or clause, and a colon, dash or the line's end follows.
  bool is_heading(const Mention& mention) const {
    const auto& tokens = work_.text.tokens;
    const std::uint32_t first = mention.first, last = mention.last;
    const bool letter = last - first == 1 && tokens[first].key_length == 1;
    const std::string_view next = last < tokens.size() ? work_.text.key(tokens[last]) : "";
    const bool after_mark = first == 0 || tokens[first - 1].kind != TokenKind::word;
    if ((next == ":" || next == "=") && (after_mark || !letter)) return true;
    if (shouts(mention)) return true;
    const bool opens = first == 0 || work_.stop_at(first, bits(Stop::clause)) ||
                       work_.stop_at(first - 1, bits(Stop::clause)) || mark(first - 1) == '|';
    if (!opens) return false;
    if (last >= tokens.size()) return !letter && first > 0 && tokens[first].is(Token::line_before);
    if (letter && !tokens[first].is(Token::capital)) return false;
    if (next == "-") return true;
    if (letter) return next == "." && heads_a_list(mention);
    if (next == "." && (first == 0 || work_.stop_at(first, 0))) return true;
    return tokens[last].is(Token::line_before) &&
           (first == 0 || tokens[first].is(Token::line_before));
  }

  // "N. brioche, apple. P. dry": but "V. long" says how long.
  bool heads_a_list(const Mention& mention) const {
    const std::uint32_t after = mention.last + 1;
    if (after >= work_.token_count() || work_.text.tokens[after].kind != TokenKind::word ||
        work_.text.tokens[after].is(Token::capital))
      return false;
    for (const lexicon::Sense& sense : lexicon_.senses_of(mention.node))
      if (sense.kind == SenseKind::cue && role(lexicon_.cues[sense.index]) == Role::heading) {
        const std::uint8_t phase = lexicon_.cues[sense.index].phase;
        return phase == static_cast<std::uint8_t>(Phase::nose) ||
               phase == static_cast<std::uint8_t>(Phase::palate) ||
               phase == static_cast<std::uint8_t>(Phase::finish);
      }
    return false;
  }

  // "NOSE cedar PALATE plum": capitals where the rest has none.
  bool shouts(const Mention& mention) const {
    if (work_.title_case) return false;
    for (std::uint32_t t = mention.first; t < mention.last; ++t)
      if (!work_.text.tokens[t].is(Token::all_capitals)) return false;
    return true;
  }

  // "It isn't", "I found none": where the small words before an answer begin.
  std::uint32_t answer_begin(std::uint32_t token) const {
    constexpr std::uint16_t small = bits(Stop::determiner) | bits(Stop::verb);
    for (int words = 0; words < 3 && token > 0 && !work_.stop_at(token, 0); ++words) {
      const Mention* before = work_.mention(token - 1);
      if (!before || (work_.stops[before->first] & small) == 0 ||
          (before->kinds & content_kinds) != 0)
        break;
      token = before->first;
    }
    return token;
  }

  bool is_stop_word(std::uint32_t token, Stop stop) const {
    return token < work_.token_count() && (work_.stops[token] & bits(stop)) != 0;
  }
  // … be it inside a longer form ("is not").
  bool is_verb(std::uint32_t token) const {
    return (index_.node(work_.known[token].root).stops & bits(Stop::verb)) != 0;
  }

  // Whether it stands as a reply or a verdict. A verdict ends its clause, and what it speaks of
  // stands right before it, or before a mark or a "but": "leather no", "Oak: none.", "expected
  // oak but no". After a question all that ends a clause replies.
  bool answers(const Mention& mention) const {
    constexpr std::uint16_t ends = bits(Stop::clause) | bits(Stop::comma) | bits(Stop::contrast);
    if (!work_.stop_at(mention.last, ends) &&
        work_.text.tokens[mention.last].kind == TokenKind::word)
      return false;
    const std::uint32_t begin = answer_begin(mention.first);
    if (begin == 0) return false;
    if (mark(begin - 1) == '?') return has_role(mention, Role::reply) || has_role(mention, Role::verdict);
    return !work_.stop_at(begin, 0) && has_role(mention, Role::verdict) && is_verdict(mention, begin);
  }

  bool is_verdict(const Mention& mention, std::uint32_t begin) const {
    const std::uint32_t before = begin - 1;
    const char its = mark(before);
    if (its == ':' || its == ',' || is_dash(before)) return before > 0;
    const Mention* thing = work_.mention(before);
    if (!thing) return false;
    if ((work_.stops[thing->first] & bits(Stop::contrast)) != 0) return thing->first > 0;
    // "The smoke is missing; the bramble is not": that verb leans on the one before.
    return (thing->kinds & content_kinds) != 0 && !is_verb(mention.first);
  }

  bool has_role(const Mention& mention, Role wanted) const {
    for (const lexicon::Sense& sense : lexicon_.senses_of(mention.node))
      if (sense.kind == SenseKind::cue && role(lexicon_.cues[sense.index]) == wanted) return true;
    return false;
  }

  // What a second thought is set off by.
  bool is_pause(std::uint32_t token) const { return mark(token) == ',' || is_dash(token); }

  bool is_dash(std::uint32_t token) const {
    return work_.text.tokens[token].kind != TokenKind::word &&
           work_.text.key(work_.text.tokens[token]) == "-";
  }

  // "my colleague gets", "the man opposite also finds".
  bool has_verb(std::uint32_t token) const {
    return is_stop_word(token, Stop::verb) ||
           (token < work_.token_count() && !work_.stop_at(token, bits(Stop::comma)) &&
            is_stop_word(token + 1, Stop::verb));
  }

  // Back from an answer: the whole question before it, or the clause.
  std::uint32_t answered_begin(const CueUse& use) const {
    std::uint32_t token = answer_begin(use.first);
    const bool question = mark(token - 1) == '?';
    if (const Mention* but = work_.mention(token - 1);
        but && (work_.stops[but->first] & bits(Stop::contrast)) != 0)
      token = but->first;
    while (token > 0 && work_.text.tokens[token - 1].kind != TokenKind::word &&
           mark(token - 1) != '.')
      --token;
    const std::uint16_t stops = question ? bits(Stop::clause) : record(use).stops;
    while (token > 0) {
      --token;
      if (work_.stop_at(token, stops)) break;
    }
    return token;
  }

  void mark_own_stops(const CueUse& use) {
    const CueRecord& cue = record(use);
    std::uint16_t own = 0;
    if (cue.phase != lexicon::unset) own |= bits(Stop::phase);
    if (cue.frame != lexicon::unset) own |= bits(Stop::frame);
    if (cue.stance == static_cast<std::uint8_t>(Stance::denied)) own |= bits(Stop::negation);
    work_.stops[use.first] |= own;
    if ((own & bits(Stop::phase)) && use.last < work_.token_count())
      work_.stops[use.last] |= bits(Stop::phase);
  }

  // A heading rules until the next one, or a new paragraph.
  void paint_headings() {
    for (std::uint32_t index = 0; index < work_.cues.size(); ++index) {
      const CueUse& use = work_.cues[index];
      if (role(record(use)) != Role::heading) continue;
      std::uint32_t end = use.last;
      const auto& tokens = work_.text.tokens;
      // "Soil: slate. Plum and cherry.": where it grew is told in a sentence.
      const bool short_one = record(use).frame == static_cast<std::uint8_t>(Frame::place) &&
                             use.last + 1 < tokens.size() &&
                             !tokens[use.last + 1].is(Token::line_before);
      while (end < tokens.size() && !heads(end, index)) {
        if (end > use.last + 1 && tokens[end].is(Token::blank_line_before)) break;
        if (short_one && end > use.last + 1 && work_.stop_at(end, 0)) break;
        ++end;
      }
      set(index, use.first, end, true);
    }
  }

  bool heads(std::uint32_t token, std::uint32_t after) const {
    for (std::uint32_t i = after + 1; i < work_.cues.size() && work_.cues[i].first <= token; ++i)
      if (work_.cues[i].first == token && role(record(work_.cues[i])) == Role::heading) return true;
    return false;
  }

  // "Eggs from the corner shop": all between two stops, unless it speaks of the wine after all.
  void paint_around(std::uint32_t index) {
    const CueUse& use = work_.cues[index];
    const std::uint16_t stops = record(use).stops;
    std::uint32_t begin = use.first, end = use.last;
    while (begin > 0 && use.first - begin < look_around &&
           (begin == use.first ? !work_.stop_at(begin, stops & ~own_marks) : !work_.stop_at(begin, stops)))
      --begin;
    while (end < work_.token_count() && end - use.last < look_around && !work_.stop_at(end, stops)) ++end;
    for (std::uint32_t t = begin; t < end; ++t)
      if (speaks_of_wine(t)) return;
    set(index, begin, end, false);
  }

  bool speaks_of_wine(std::uint32_t token) const {
    if (is_of_wine_alone(work_, token)) return true;
    const std::uint32_t reach = work_.reach[static_cast<std::size_t>(Attribute::phase)][token];
    return reach != 0 && !is_heading_reach(reach);
  }

  // "smells of roast lamb": a cue before it says that the wine is meant.
  bool is_tasted(const CueUse& use) const {
    for (const Attribute attribute : {Attribute::phase, Attribute::strength}) {
      const std::uint32_t reach =
          work_.reach[static_cast<std::size_t>(attribute)][use.first];
      if (reach == 0) continue;
      if (!is_heading_reach(reach) || work_.cues[reach - 1].first >= begin_of(use.first))
        return true;
    }
    return false;
  }

  void paint_cue(std::uint32_t index) {
    const CueUse& use = work_.cues[index];
    if (record(use).bare == 1 && is_tasted(use)) return;
    if (record(use).phase != lexicon::unset && is_bracketed(use)) return set(index, list_begin(use), use.last, true);
    switch (role(record(use))) {
      case Role::here: set(index, use.first, use.last, true); break;
      case Role::forward: set(index, use.first, forward_end(use), true); break;
      case Role::backward: set(index, phase_begin(use, backward_begin(use)), use.last, true); break;
      case Role::both:
        if (use.forward_only) {
          set(index, use.first, forward_end(use), true);
        } else if (opens_clause(use)) {
          // The adjectives before it are of it too: "its crisp aftertaste".
          set(index, backward_begin(use, openers), forward_end(use), true);
        } else {
          set(index, phase_begin(use, backward_begin(use)), use.last, true);
          // "Olive on the palate, with thyme": a phase goes on where nothing else rules.
          if (record(use).phase != lexicon::unset)
            set(index, use.last, forward_end(use), false);
        }
        break;
      case Role::reply: case Role::verdict: set(index, answered_begin(use), use.last, true); break;
      case Role::subject: set(index, use.first, forward_end(use), true); break;
      case Role::heading: case Role::stop: case Role::decoy: case Role::around: case Role::weighed: break;
    }
  }

  // "fig, walnut, toffee (nose)"
  bool is_bracketed(const CueUse& use) const {
    return use.first > 1 && mark(use.first - 1) == '(' && mark(use.last) == ')';
  }
  std::uint32_t list_begin(const CueUse& use) const {
    std::uint32_t token = use.first - 1;
    do --token;
    while (token > 0 && !work_.stop_at(token, bits(Stop::clause) | bits(Stop::phase)));
    return token;
  }

  // "cherry on the palate, clove on the finish": what has its phase keeps it up to the last mark;
  // "flavours of plum finish hot": up to the cue.
  std::uint32_t phase_begin(const CueUse& use, std::uint32_t begin) const {
    if (record(use).phase == lexicon::unset || begin >= use.first) return begin;
    constexpr std::uint16_t openings =
        bits(Stop::determiner) | bits(Stop::verb) | bits(Stop::preposition);
    const std::uint32_t start = governor(use);
    begin = past_look(begin, start);
    // "a spicy, peppery finish", "followed by cocoa flavours": what its own words open is its own.
    const std::uint16_t opening = work_.stops[begin];
    if (begin > 0 && start == use.first && (opening & openings) && !(opening & bits(Stop::phase)))
      return begin;
    const auto& reach = work_.reach[static_cast<std::size_t>(Attribute::phase)];
    const std::uint32_t before = reach[use.first - 1];
    const bool tasted = start == use.first && before != 0 &&
                        role(record(work_.cues[before - 1])) == Role::forward;
    const Mention* next = work_.mention(use.last);
    if (tasted && next && next->may_be(SenseKind::level)) return use.first;
    if (!tasted && before != 0 && role(record(work_.cues[before - 1])) == Role::both) {
      // "flint on the nose, and lime, zest on the palate": all behind a mark is of the second.
      const std::uint32_t own = work_.cues[before - 1].last;
      if (own >= begin && own < start && mark(own) == ',' && work_.stop_at(own + 1, bits(Stop::conjunction)))
        return own;
    }
    for (std::uint32_t t = start; t > begin; --t)
      if (t < start && reach[t - 1] != 0 && parts_phases(t)) return t;
    return tasted ? use.first : begin;
  }

  // "pale lemon, green apple on the nose": the look is told before.
  std::uint32_t past_look(std::uint32_t begin, std::uint32_t end) const {
    bool looks = false;
    std::uint32_t past = begin;
    for (std::uint32_t t = begin; t < end; ++t) {
      if (looks && (work_.stops[t] & (bits(Stop::comma) | bits(Stop::preposition))) != 0) {
        past = t;
        looks = false;
      }
      const Mention* mention = work_.mention(t);
      const Mention* next = mention && mention->first == t && mention->may_be(SenseKind::sight)
                                ? work_.mention(mention->last) : nullptr;
      looks = looks || (next && next->may_be(SenseKind::hue));
    }
    return past;
  }

  bool parts_phases(std::uint32_t token) const {
    const std::uint16_t stops = work_.stops[token];
    return (stops & (bits(Stop::comma) | bits(Stop::contrast))) != 0 ||
           ((stops & bits(Stop::preposition)) != 0 && (stops & bits(Stop::place)) == 0);
  }

  bool within_limit(const CueRecord& cue, std::uint32_t words) const {
    return cue.limit == 0 || words <= cue.limit;
  }

  // A cue that looks both ways stops at verbs, prepositions and articles only going back.
  static std::uint16_t forward_stops(const CueRecord& cue) {
    constexpr std::uint16_t back_only =
        bits(Stop::verb) | bits(Stop::preposition) | bits(Stop::determiner);
    if (role(cue) != Role::both || cue.phase == lexicon::unset) return cue.stops;
    return static_cast<std::uint16_t>(cue.stops & ~back_only & ~bits(Stop::contrast));
  }

  // Between commas: "and, possibly, mint"; not "rubbery, perhaps, but mint" or "…, and mint".
  bool speaks_of_what_follows(const CueUse& use) const {
    return use.first > 0 && mark(use.first - 1) == ',' && mark(use.last) == ',' &&
           !work_.stop_at(use.last + 1, bits(Stop::contrast) | bits(Stop::preposition) |
                                             bits(Stop::conjunction));
  }

  // "Pepper, our spaniel, slept": who somebody is stands between commas behind the name.
  bool is_apposition(const CueUse& use) const {
    return record(use).frame == static_cast<std::uint8_t>(Frame::name) &&
           (index_.node(work_.known[use.first].root).stops & bits(Stop::determiner)) != 0;
  }

  // "If pushed, fennel", "With coaxing, violet": a doubt or a time at the head of a sentence
  // looks over the comma after it; after a colon, over those of the list too.
  bool heads_sentence(const CueUse& use) const {
    const CueRecord& cue = record(use);
    const bool doubts = cue.stance == static_cast<std::uint8_t>(Stance::hedged);
    const bool times = cue.when != lexicon::unset && cue.frame == lexicon::unset;
    return (doubts || times) &&
           (use.first == 0 || work_.stop_at(use.first, bits(Stop::clause)) ||
            work_.stop_at(use.first - 1, bits(Stop::clause)));
  }

  // "not, to my way of thinking, earthy": past what is put in between two commas, if that names
  // nothing.
  std::uint32_t after_insertion(std::uint32_t token) const {
    constexpr std::uint32_t most = 9;
    if (mark(token) != ',') return token;
    for (std::uint32_t t = token + 1; t < token + most && t < work_.token_count(); ++t) {
      if (mark(t) == ',') return t + 1;
      if (work_.stop_at(t, bits(Stop::clause) | bits(Stop::negation) | bits(Stop::contrast)))
        return token;
      const Mention* inside = work_.mention(t);
      if (inside && (inside->kinds & content_kinds) != 0) return token;
    }
    return token;
  }

  // "The cherry, like my hair, is gone": back past what is put in between two commas, likewise.
  std::uint32_t before_insertion(std::uint32_t token) const {
    constexpr std::uint32_t most = 9;
    if (token < 2 || mark(token - 1) != ',') return token;
    for (std::uint32_t t = token - 1; t > 0 && token - t < most; --t) {
      if (mark(t - 1) == ',') return t + 1 < token ? t - 1 : token;
      if (work_.stop_at(t - 1, bits(Stop::clause) | bits(Stop::negation) | bits(Stop::contrast)))
        return token;
      const Mention* inside = work_.mention(t - 1);
      if (inside && (inside->kinds & content_kinds) != 0) return token;
    }
    return token;
  }

  // "not the cherry I expected but plum": a "but" right after the cue.
  std::uint16_t is_but(std::uint32_t token) const {
    constexpr std::uint16_t both = bits(Stop::contrast) | bits(Stop::conjunction);
    return (work_.stops[token] & both) == both ? bits(Stop::contrast) : std::uint16_t{0};
  }

  bool is_quotation_mark(std::uint32_t token) const {
    if (work_.text.tokens[token].kind == TokenKind::word) return false;
    const std::string_view key = work_.text.key(work_.text.tokens[token]);
    return key == "\"" || key == "\u201c" || key == "\u201d";
  }

  // Whether it opens a bracket, or closes one that is open.
  bool is_bracket(std::uint32_t token, int& open) const {
    if (mark(token) == '(') return ++open > 0;
    return mark(token) == ')' && open-- > 0;
  }

  // "maybe a whiff of fennel": past words of nose or palate right after a doubt or denial.
  std::uint32_t past_lead(const CueRecord& cue, std::uint32_t start) const {
    if (cue.stance == lexicon::unset || start >= work_.token_count()) return start;
    const Mention* lead = work_.mention(start);
    return lead && (work_.stops[lead->first] & bits(Stop::phase)) != 0 ? lead->last : start;
  }

  // "We had lamb with mint, so make allowances: cherry": a tale that comes to its wine.
  static constexpr std::uint32_t most_before_list = 3;
  static bool leads_to_list(const CueRecord& cue) {
    const auto frame = static_cast<Frame>(cue.frame);
    return cue.frame != lexicon::unset && (frame == Frame::pairing || frame == Frame::making ||
                                           frame == Frame::place || frame == Frame::serving);
  }

  // "Lees stirring has brought butter": a verb right behind the cue that turns to the wine.
  bool gives(const CueRecord& cue, std::uint32_t token) const {
    constexpr std::uint16_t turns = bits(Stop::home) | bits(Stop::verb);
    return cue.frame != lexicon::unset && static_cast<Frame>(cue.frame) == Frame::making &&
           (work_.stops[token] & turns) == turns;
  }

  std::uint32_t forward_end(const CueUse& use) const {
    const CueRecord& cue = record(use);
    std::uint16_t stops = forward_stops(cue);
    std::uint32_t words = 0, token = use.last;
    bool quoted = false;   // 'the label says "peach, lime"': what is quoted is of one piece
    int brackets = 0;      // "on the palate plum (ripe), cherry": a phase goes on behind them
    if (speaks_of_what_follows(use) || (mark(token) == ',' && heads_sentence(use))) ++token;
    else if (mark(token) == ':' && heads_sentence(use)) stops &= static_cast<std::uint16_t>(~bits(Stop::comma));
    else if (cue.stance != lexicon::unset) token = after_insertion(token);
    const std::uint32_t start = token, led = past_lead(cue, start);
    for (; token < work_.token_count(); ++token) {
      if (is_quotation_mark(token)) quoted = !quoted;
      const bool marked = work_.text.tokens[token].kind == TokenKind::punctuation &&
                          mark(token) != ':';
      if (token > start || marked) {
        auto here = static_cast<std::uint16_t>(
            token == start || token == led ? stops & ~own_marks : stops);
        if (quoted) here = static_cast<std::uint16_t>(here & ~bits(Stop::comma));
        if (cue.phase != lexicon::unset && token > start && is_bracket(token, brackets))
          here = static_cast<std::uint16_t>(here & ~(bits(Stop::comma) | bits(Stop::clause)));
        const bool crosses = cue.list == static_cast<std::uint8_t>(lexicon::List::or_);
        if (work_.stop_at(token, here) && !(crosses && list_goes_on(token))) break;
      } else if (work_.stop_at(token, 0) || (stops & is_but(token)) != 0 || gives(cue, token)) {
        break;
      }
      if (words > most_before_list && mark(token) == ':' && leads_to_list(cue)) break;
      if (work_.text.tokens[token].kind == TokenKind::word && !within_limit(cue, ++words)) break;
    }
    return token;
  }

  // "plum and clove come together on the juicy palate": the preposition of place before a
  // cue, with nothing but adjectives between.
  std::uint32_t governing_place(const CueUse& use) const {
    constexpr std::uint32_t most_adjectives = 4;
    for (std::uint32_t t = use.first; t > 0 && use.first - t < most_adjectives; --t) {
      const std::uint16_t walls = t < use.first ? openers | bits(Stop::verb) : bits(Stop::clause);
      if (work_.stop_at(t, walls)) break;
      if (work_.stops[t - 1] & bits(Stop::place)) return t - 1;
      const Mention* before = work_.mention(t - 1);
      if (before && (before->kinds & content_kinds) != 0) break;
    }
    return use.first;
  }

  // "cedar and mint carry the nose": the verb right before a cue that is its object.
  std::uint32_t governor(const CueUse& use) const {
    if (role(record(use)) != Role::both || use.first == 0) return use.first;
    if (record(use).phase != lexicon::unset)
      if (const std::uint32_t place = governing_place(use); place != use.first) return place;
    const Mention* verb = work_.mention(use.first - 1);
    const bool governs = verb && verb->last == use.first && !verb->decided &&
                         (work_.stops[verb->first] & bits(Stop::verb)) != 0 &&
                         (work_.stops[use.first] & bits(Stop::clause)) == 0;
    return governs ? verb->first : use.first;
  }

  // Where a preposition of place governs, the whole clause before it is meant.
  std::uint16_t back_stops(const CueUse& use, std::uint32_t start, std::uint16_t more) const {
    constexpr std::uint16_t narrow =
        bits(Stop::verb) | bits(Stop::preposition) | bits(Stop::determiner);
    const bool place = start < use.first && (work_.stops[start] & bits(Stop::place));
    const std::uint16_t own = record(use).stops;
    return static_cast<std::uint16_t>((place ? own & ~narrow : own) | more);
  }

  std::uint32_t backward_begin(const CueUse& use, std::uint16_t more_stops = 0) const {
    const CueRecord& cue = record(use);
    const std::uint32_t start = governor(use);
    const std::uint16_t stops = back_stops(use, start, more_stops);
    std::uint32_t words = 0;
    std::uint32_t token = start;
    // "Flint, maybe": an afterthought reaches over its own comma.
    const bool joins = (work_.stops[use.first] & bits(Stop::conjunction)) != 0;
    if (role(cue) == Role::backward && token > 0 && joins && is_pause(token - 1)) {
      --token;   // "jasmine, or is it honeysuckle?", "jasmine – scratch that – rose"
    } else if (const std::uint32_t inserted = before_insertion(token); cue.stance != lexicon::unset &&
               role(cue) == Role::backward && inserted != token) {
      token = inserted;
    } else if (role(cue) == Role::backward && token > 0 && mark(token - 1) == ',') {
      const bool ends = use.last >= work_.token_count() || work_.stop_at(use.last, 0) ||
                        work_.text.tokens[use.last].kind != TokenKind::word;
      if (!ends || (speaks_of_what_follows(use) && !is_apposition(use))) return use.first;
      --token;
    } else if (role(cue) == Role::backward && is_apposition(use)) {
      return use.first;
    }
    // "cedar and maybe mint" doubts the mint.
    if (role(cue) == Role::backward && cue.stance != lexicon::unset && !joins && token > 0)
      if (const Mention* before = work_.mention(token - 1);
          before && (work_.stops[before->first] & bits(Stop::conjunction)) != 0)
        return use.first;
    // "Pepper. Possibly olive": what opens a sentence and goes on speaks of what follows.
    if (role(cue) == Role::backward && token == use.first && opens_sentence(use)) return use.first;
    const std::uint32_t from = token;
    std::uint32_t joined = 0;
    while (token > 0) {
      if (token < from && work_.stop_at(token, stops)) break;
      if (token == from && work_.stop_at(token, more_stops & ~own_marks)) break;
      // "smoke is there and leather is missing": the clause after "and" alone.
      if (cue.stance != lexicon::unset && token < from) {
        if (joined != 0 && (work_.stops[token] & bits(Stop::verb)) != 0) return joined;
        if ((work_.stops[token] & bits(Stop::conjunction)) != 0) joined = token + 1;
      }
      // The stop may be the mark itself, which belongs to neither side.
      if (work_.text.tokens[token - 1].kind == TokenKind::word && !within_limit(cue, ++words))
        break;
      --token;
    }
    return token;
  }

  bool opens_sentence(const CueUse& use) const {
    return use.first > 0 && work_.text.tokens[use.first].kind == TokenKind::word &&
           work_.stop_at(use.first, bits(Stop::clause) | bits(Stop::comma)) &&
           use.last < work_.token_count() && !work_.stop_at(use.last, bits(Stop::clause)) &&
           work_.text.tokens[use.last].kind == TokenKind::word;
  }

  // "no oak, butter or cream": the comma joins if the list ends in "or".
  bool list_goes_on(std::uint32_t comma) const {
    if (mark(comma) != ',' || work_.stop_at(comma, bits(Stop::clause))) return false;
    constexpr std::uint16_t ends = bits(Stop::clause) | bits(Stop::contrast) | bits(Stop::verb) |
                                   bits(Stop::negation) | bits(Stop::preposition);
    for (std::uint32_t token = comma + 1; token < work_.token_count(); ++token) {
      if (work_.stop_at(token, ends)) return false;
      if (closes_list(token)) return true;
    }
    return false;
  }

  bool closes_list(std::uint32_t token) const {
    const Mention* mention = work_.mention(token);
    if (!mention || !mention->may_be(SenseKind::cue)) return false;
    for (const lexicon::Sense& sense : lexicon_.senses_of(mention->node))
      if (sense.kind == SenseKind::cue && role(lexicon_.cues[sense.index]) == Role::stop &&
          lexicon_.cues[sense.index].list == static_cast<std::uint8_t>(lexicon::List::or_))
        return true;
    return false;
  }

  // Nothing stands before it in its clause that it could speak of.
  bool opens_clause(const CueUse& use) const {
    const std::uint32_t start = governor(use);
    const std::uint16_t stops = back_stops(use, start, openers);
    for (std::uint32_t token = start; token > 0; --token) {
      if (token < start ? work_.stop_at(token, stops)
                        : work_.stop_at(token, openers & ~own_marks))
        return true;
      const Mention* before = work_.mention(token - 1);
      if (before && (before->kinds & content_kinds) != 0 && before->last <= start) return false;
    }
    return true;
  }

  void set(std::uint32_t index, std::uint32_t begin, std::uint32_t end, bool over) {
    const CueRecord& cue = record(work_.cues[index]);
    // "Who could resist such plum?": a mark alone doubts nothing that words assert.
    const bool marks = work_.text.tokens[work_.cues[index].first].kind != TokenKind::word;
    const auto paint_one = [&](Attribute attribute, bool sets) {
      if (!sets) return;
      auto& tokens = work_.reach[static_cast<std::size_t>(attribute)];
      for (std::uint32_t t = begin; t < end; ++t)
        if ((over || tokens[t] == 0 || is_heading_reach(tokens[t])) &&
            !(attribute == Attribute::stance &&
              ((denies(tokens[t]) && !denies(index + 1)) || (marks && asserts(tokens[t])))))
          tokens[t] = index + 1;
    };
    paint_one(Attribute::stance, cue.stance != lexicon::unset);
    paint_one(Attribute::when, cue.when != lexicon::unset);
    paint_one(Attribute::frame, cue.frame != lexicon::unset);
    paint_one(Attribute::phase, cue.phase != lexicon::unset);
    paint_one(Attribute::strength, cue.strength_low != 0);
    paint_one(Attribute::state, cue.state != 0);
    paint_one(Attribute::texture, cue.texture == 1);
  }

  // What is denied stays so: "no lemon or lime" leaves nothing open.
  bool denies(std::uint32_t reach) const {
    return reach != 0 && record(work_.cues[reach - 1]).stance ==
                             static_cast<std::uint8_t>(Stance::denied);
  }

  bool asserts(std::uint32_t reach) const {
    return reach != 0 && record(work_.cues[reach - 1]).stance ==
                             static_cast<std::uint8_t>(Stance::stated);
  }

  bool is_heading_reach(std::uint32_t reach) const {
    return context::is_heading_reach(lexicon_, work_, reach);
  }

  void settle() {
    work_.phases.assign(work_.token_count(), Phase::overall);
    work_.frames.assign(work_.token_count(), Frame::tasting);
    for (std::uint32_t t = 0; t < work_.token_count(); ++t) {
      if (const CueRecord* cue = cue_over(lexicon_, work_, Attribute::phase, t))
        work_.phases[t] = static_cast<Phase>(cue->phase);
      if (const CueRecord* cue = cue_over(lexicon_, work_, Attribute::frame, t))
        work_.frames[t] = static_cast<Frame>(cue->frame);
    }
  }

  std::string_view text_;
  const match::MatchIndex& index_;
  const CompiledLexicon& lexicon_;
  Workspace& work_;
};

}  // namespace

const CueRecord* cue_over(const CompiledLexicon& lexicon, const Workspace& work,
                          Attribute attribute, std::uint32_t token) noexcept {
  const auto& tokens = work.reach[static_cast<std::size_t>(attribute)];
  if (token >= tokens.size() || tokens[token] == 0) return nullptr;
  return &lexicon.cues[work.cues[tokens[token] - 1].record];
}

bool is_of_wine_alone(const Workspace& work, std::uint32_t token) noexcept {
  constexpr std::uint32_t wine_kinds = kind_bit(SenseKind::phrase) | kind_bit(SenseKind::anchor) |
                                       kind_bit(SenseKind::fault);
  const Mention* mention = work.mention(token);
  return mention && mention->first == token && (mention->kinds & wine_kinds) != 0 &&
         !mention->may_be(SenseKind::descriptor);
}

bool is_heading_reach(const CompiledLexicon& lexicon, const Workspace& work,
                      std::uint32_t reach) noexcept {
  return static_cast<Role>(lexicon.cues[work.cues[reach - 1].record].role) == Role::heading;
}

void paint_scopes(std::string_view text, const match::MatchIndex& index, Workspace& work) {
  Painter(text, index, work).paint();
}

}  // namespace racking::context
