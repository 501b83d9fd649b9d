#include "context/readings.hpp"

#include <algorithm>
#include <array>

#include "context/scopes.hpp"

namespace racking::context {

using lexicon::CompiledLexicon;
using lexicon::CueRecord;
using lexicon::SenseKind;
using lexicon::Stop;
using match::Mention;
using text::Token;
using text::TokenKind;

namespace {

// What the cues around a word make of it.
struct Attributes {
  Phase phase = Phase::overall;
  Stance stance = Stance::stated;
  When when = When::now;
  Frame frame = Frame::tasting;
  State state = State::none;
  std::optional<Interval> strength;
  Slice cues;

  bool perceived() const {
    return frame == Frame::tasting && (when == When::now || when == When::with_air);
  }
};

class Writer {
 public:
  Writer(const CompiledLexicon& lexicon, Workspace& work, Note::Content& note)
      : lexicon_(lexicon), work_(work), note_(note) {}

  void write() {
    reserve();
    write_statements();
    for (const std::uint32_t index : work_.lists.decided) write_mention(work_.mentions[index]);
    write_names_in_cues();
    for (const StructureUse& use : work_.structures) write_structure(use);
    constexpr auto earlier = [](const Trait& a, const Trait& b) {
      return a.span.begin < b.span.begin;
    };
    if (!std::is_sorted(note_.traits.begin(), note_.traits.end(), earlier))
      std::stable_sort(note_.traits.begin(), note_.traits.end(), earlier);
    for (const match::FoundQuantity& use : work_.quantities) write_quantity(use);
  }

 private:
  // One allocation a list: the counts are known, or close to it.
  void reserve() {
    std::array<std::uint32_t, lexicon::sense_kind_count> counts{};
    for (const std::uint32_t index : work_.lists.decided)
      ++counts[static_cast<std::size_t>(work_.mentions[index].kind)];
    const auto count = [&](SenseKind kind) { return counts[static_cast<std::size_t>(kind)]; };
    note_.aromas.reserve(count(SenseKind::descriptor));
    note_.traits.reserve(count(SenseKind::trait));
    note_.sight.reserve(count(SenseKind::hue) + count(SenseKind::sight));
    note_.readings.reserve(work_.structures.size());
    note_.quantities.reserve(work_.quantities.size());
    note_.cues.reserve(2 * work_.cues.size());
    note_.statements.reserve(work_.cues.size() + 4);
  }

  void account(std::uint32_t first, std::uint32_t last) {
    for (std::uint32_t t = first; t < last; ++t) work_.accounted[t] |= Workspace::accounted_for;
  }

  // ---- statements ----

  void write_statements() {
    const std::uint32_t count = work_.token_count();
    if (count == 0) return;
    for (std::uint32_t t = 0; t < count; ++t) {
      const Statement next{{work_.text.tokens[t].span.begin, 0}, work_.frames[t],
                           work_.phases[t]};
      const bool starts = note_.statements.empty() || (work_.stops[t] & sentence_stop) != 0 ||
                          next.frame != note_.statements.back().frame ||
                          next.phase != note_.statements.back().phase;
      if (starts && is_word_or_number(t)) {
        note_.statements.push_back(next);
      } else if (note_.statements.empty()) {
        note_.statements.push_back(next);
      }
      note_.statements.back().span.end = work_.text.tokens[t].span.end;
    }
    tile();
  }

  bool is_word_or_number(std::uint32_t token) const {
    const TokenKind kind = work_.text.tokens[token].kind;
    return kind == TokenKind::word || kind == TokenKind::number;
  }

  // The white space between two statements belongs to neither; marks go with what they end.
  void tile() {
    for (std::size_t i = 1; i < note_.statements.size(); ++i)
      note_.statements[i - 1].span.end =
          std::min(note_.statements[i - 1].span.end, note_.statements[i].span.begin);
  }

  // ---- attributes ----

  // Words of their own may stop a cue that stands before them: "no end of the pier", "never clean
  // on the finish". What reaches their first word is said of them all.
  std::uint32_t stance_token(std::uint32_t token, const Mention* mention) const {
    const auto& reach = work_.reach[static_cast<std::size_t>(Attribute::stance)];
    return mention && reach[token] == 0 && mention->last == token + 1 ? mention->first : token;
  }

  Attributes attributes(std::uint32_t token, const Mention* mention,
                        bool negated_already = false) {
    Attributes found;
    found.phase = work_.phases[token];
    found.frame = work_.frames[token];
    const auto begin = static_cast<std::uint32_t>(note_.cues.size());
    if (const CueRecord* cue = take(Attribute::stance, stance_token(token, mention))) {
      found.stance = static_cast<Stance>(cue->stance);
      if (negated_already && found.stance == Stance::denied) {
        found.stance = Stance::stated;
        if (work_.trace) work_.trace->open.back().step = Step::spent_cue;
      }
    }
    if (const CueRecord* cue = take(Attribute::when, token))
      found.when = static_cast<When>(cue->when);
    take(Attribute::frame, token);
    take(Attribute::phase, token);
    if (work_.trace) trace_phase(token);
    // Only a smell has a strength and a state.
    if (mention && mention->kind == SenseKind::descriptor) {
      if (const CueRecord* cue = take(Attribute::strength, token))
        found.strength = Interval{cue->strength_low, cue->strength_high};
      if (const CueRecord* cue = take(Attribute::state, token))
        found.state = static_cast<State>(cue->state);
    }
    if (mention && mention->rule != lexicon::none)
      note_.cues.push_back({work_.span(mention->first, mention->last),
                            lexicon_.string(lexicon_.sense_rules[mention->rule].id)});
    found.cues = {begin, static_cast<std::uint32_t>(note_.cues.size()) - begin};
    return found;
  }

  // The cue that reaches `token`, kept as evidence. A cue inside the very words it would
  // bear on bears on others only.
  const CueRecord* take(Attribute attribute, std::uint32_t token) {
    const std::uint32_t reach = work_.reach[static_cast<std::size_t>(attribute)][token];
    if (reach == 0) return nullptr;
    const CueUse& use = work_.cues[reach - 1];
    const CueRecord& cue = lexicon_.cues[use.record];
    if (work_.trace)
      work_.trace->open.push_back({Step::cue, attribute, use.first, use.last, reach - 1, {}, {}});
    const Span span = work_.span(use.first, use.last);
    const std::string_view rule = lexicon_.string(cue.id);
    for (std::size_t i = note_.cues.size(); i-- > 0 && note_.cues.size() - i < 8;)
      if (note_.cues[i].span == span && note_.cues[i].rule.data() == rule.data()) return &cue;
    note_.cues.push_back({span, rule});
    return &cue;
  }

  // ---- traces; none is kept in normal reading ----

  void trace(Step step, Attribute attribute, std::uint32_t first, std::uint32_t last) {
    if (work_.trace) work_.trace->open.push_back({step, attribute, first, last, lexicon::none, {}, {}});
  }

  void trace_phase(std::uint32_t token) {
    const auto& tokens = work_.trace->phase_tokens;
    for (std::size_t i = tokens.size(); i-- > 0;)
      if (tokens[i].first <= token && token < tokens[i].second)
        return work_.trace->open.push_back(work_.trace->phases[i]);
  }

  void traced(Written kind, bool aside, Span span, std::string_view id, const Mention* mention) {
    if (!work_.trace) return;
    const auto index = mention ? static_cast<std::uint32_t>(mention - work_.mentions.data())
                               : lexicon::none;
    work_.trace->write(kind, aside, span, id, index);
  }

  // ---- mentions ----

  void write_mention(Mention& mention) {
    if (!mention.decided) return;
    if (work_.trace) work_.trace->open.clear();
    switch (mention.kind) {
      case SenseKind::descriptor: write_aroma(mention); break;
      case SenseKind::trait: if (!mention.used) write_trait(mention); break;
      case SenseKind::level: if (!mention.used) write_level_trait(mention); break;
      case SenseKind::phrase: write_phrase_traits(mention); break;
      case SenseKind::hue: case SenseKind::sight: write_sight(mention); break;
      case SenseKind::fault: write_fault(mention); break;
      case SenseKind::name: write_name(mention); break;
      default: break;
    }
  }

  void write_aroma(Mention& mention) {
    const std::uint32_t head = mention.last - 1;
    if (const CueRecord* cue = cue_over(lexicon_, work_, Attribute::texture, head);
        cue && can_be_texture(mention)) {
      account(mention.first, mention.last);
      return;
    }
    Aroma aroma;
    aroma.descriptor = Descriptor(&lexicon_, mention.index);
    const Attributes its = attributes(head, &mention);
    aroma.phase = its.phase;
    aroma.stance = its.stance;
    aroma.when = its.when;
    aroma.frame = is_in_name(mention) ? Frame::name : its.frame;
    aroma.state = its.state | aroma.descriptor.state();
    aroma.strength = its.strength;
    aroma.cues = its.cues;
    aroma.respelled = mention.respelled;
    aroma.span = work_.span(mention.first, mention.last);
    if (mention.shares()) add_parts(mention, aroma);
    account(mention.first, mention.last);
    mention.used = true;
    const bool perceived = its.perceived() && aroma.frame == Frame::tasting;
    traced(Written::aroma, !perceived, aroma.span, aroma.descriptor.id(), &mention);
    (perceived ? note_.aromas : note_.aside_aromas).push_back(aroma);
  }

  void add_parts(const Mention& mention, Aroma& aroma) {
    const Span own = work_.span(mention.first, mention.last);
    const Span shared = work_.span(mention.shared_first, mention.shared_last);
    account(mention.shared_first, mention.shared_last);
    const auto begin = static_cast<std::uint32_t>(note_.parts.size());
    note_.parts.push_back(own.begin < shared.begin ? own : shared);
    note_.parts.push_back(own.begin < shared.begin ? shared : own);
    aroma.parts = {begin, 2};
    aroma.span = {std::min(own.begin, shared.begin), std::max(own.end, shared.end)};
  }

  // Only an adjective describes a texture; "cream" beside one is still cream.
  bool can_be_texture(const Mention& mention) const {
    for (const lexicon::Sense& sense : lexicon_.senses_of(mention.node))
      if (sense.kind == SenseKind::descriptor && sense.index == mention.index)
        return (sense.flags & (lexicon::Sense::derived | lexicon::Sense::adjective)) != 0;
    return false;
  }

  // "Cherry Hollow": a capital inside a sentence, beside a capitalised word that is nothing
  // else, makes a name.
  bool is_in_name(const Mention& mention) {
    if (work_.title_case) return false;
    const auto& tokens = work_.text.tokens;
    for (std::uint32_t t = mention.first; t < mention.last; ++t)
      if (!tokens[t].is(Token::capital) || tokens[t].is(Token::all_capitals)) return false;
    const auto stranger = [&](std::uint32_t t) {
      if (t >= tokens.size() || tokens[t].kind != TokenKind::word ||
          !tokens[t].is(Token::capital) || tokens[t].is(Token::all_capitals))
        return false;
      const Mention* other = work_.mention(t);
      // "Unoaked Chardonnay" is no house: a grape's own name makes none.
      const bool grape = other && other->decided && other->is(SenseKind::name) &&
                         static_cast<NameKind>(lexicon_.names[other->index].kind) == NameKind::grape;
      return other == nullptr || !other->decided || (other->is(SenseKind::name) && !grape);
    };
    constexpr std::uint16_t breaks = bits(Stop::comma) | bits(Stop::clause);
    if (mention.last < tokens.size() && !work_.stop_at(mention.last, breaks) &&
        stranger(mention.last)) {
      trace(Step::in_name, Attribute::frame, mention.last, mention.last + 1);
      return true;
    }
    const bool opens = mention.first == 0 || work_.stop_at(mention.first, 0);
    if (opens || work_.stop_at(mention.first, breaks) || !stranger(mention.first - 1)) return false;
    trace(Step::in_name, Attribute::frame, mention.first - 1, mention.first);
    return true;
  }

  void add_trait(std::string_view id, Span span, const Attributes& its,
                 std::optional<Dimension> dimension, const Mention* mention) {
    Trait trait;
    trait.id = id;
    trait.span = span;
    trait.cues = its.cues;
    trait.dimension = dimension;
    trait.phase = its.phase;
    trait.stance = its.stance;
    trait.when = its.when;
    trait.frame = its.frame;
    traced(Written::trait, !its.perceived(), span, id, mention);
    (its.perceived() ? note_.traits : note_.aside_traits).push_back(trait);
  }

  std::string_view trait_id(std::uint32_t index) const {
    return lexicon_.string(lexicon_.traits[index].id);
  }

  void write_trait(Mention& mention) {
    const Attributes its = attributes(mention.last - 1, &mention);
    add_trait(trait_id(mention.index), work_.span(mention.first, mention.last), its, {}, &mention);
    account(mention.first, mention.last);
    mention.used = true;
  }

  // A level that found nothing to attach to is the trait it also names, or just a word.
  void write_level_trait(Mention& mention) {
    account(mention.first, mention.last);
    if (const lexicon::Sense* sense =
            match::sense_of(lexicon_, mention.node, SenseKind::trait)) {
      const Attributes its = attributes(mention.last - 1, &mention);
      add_trait(trait_id(sense->index), work_.span(mention.first, mention.last), its, {}, &mention);
      mention.used = true;
    }
  }

  void write_phrase_traits(Mention& mention) {
    const lexicon::PhraseRecord& phrase = lexicon_.phrases[mention.index];
    account(mention.first, mention.last);
    if (phrase.dimension != lexicon::unset) return;
    const Attributes its = attributes(mention.last - 1, &mention);
    for (const std::uint32_t trait : lexicon_.range(phrase.traits))
      add_trait(trait_id(trait), work_.span(mention.first, mention.last), its, {}, &mention);
  }

  // ---- sight ----

  void write_sight(Mention& mention) {
    Sight sight;
    sight.span = work_.span(mention.first, mention.last);
    account(mention.first, mention.last);
    if (mention.kind == SenseKind::hue) {
      sight.hue = static_cast<Hue>(lexicon_.hues[mention.index].hue);
      sight.part = at_rim(mention) ? SightPart::rim : SightPart::core;
    } else {
      const lexicon::SightRecord& record = lexicon_.sights[mention.index];
      switch (static_cast<SightKind>(record.kind)) {
        case SightKind::depth: sight.part = SightPart::depth; break;
        case SightKind::clarity: sight.part = SightPart::clarity; break;
        case SightKind::deposit: sight.part = SightPart::deposit; break;
        case SightKind::bubbles: sight.part = SightPart::bubbles; break;
        case SightKind::tears: sight.part = SightPart::tears; break;
        case SightKind::rim: case SightKind::colour: return;   // places, nothing said
      }
      sight.value = lexicon_.string(record.value);
      if (record.low != 0) sight.range = Interval{record.low, record.high};
    }
    const Attributes its = attributes(mention.last - 1, &mention);
    sight.stance = its.stance;
    sight.when = its.when;
    sight.frame = its.frame;
    sight.cues = its.cues;
    mention.used = true;
    traced(Written::sight, !its.perceived(), sight.span,
           sight.hue ? name_of(*sight.hue) : sight.value, &mention);
    (its.perceived() ? note_.sight : note_.aside_sight).push_back(sight);
  }

  bool is_place(std::uint32_t token, SightKind kind) const {
    const Mention* mention = work_.mention(token);
    if (!mention) return false;
    // A word of a cue is one too: "on the rim".
    const bool inside = !mention->may_be(SenseKind::sight) && mention->may_be(SenseKind::cue);
    const lexicon::Sense* sense = match::sense_of(
        lexicon_, inside ? work_.known[token].root : mention->node, SenseKind::sight);
    return sense && lexicon_.sights[sense->index].kind == static_cast<std::uint8_t>(kind);
  }

  // "brick rim", "brick at the rim", "fading to brick on the edge", "rim: brick", "rim is brick".
  bool at_rim(const Mention& mention) {
    constexpr std::uint32_t reach = 4;
    constexpr std::uint16_t walls = bits(Stop::clause) | bits(Stop::comma);
    for (std::uint32_t t = mention.last;
         t < work_.token_count() && t < mention.last + reach && !work_.stop_at(t, walls); ++t) {
      // "ruby and rim of garnet": the rim speaks of what follows it.
      if (is_place(t, SightKind::rim))
        return (t + 1 >= work_.token_count() ||
                work_.text.key(work_.text.tokens[t + 1]) != "of") &&
               rim_is_at(t);
      if (is_place(t, SightKind::colour)) return false;
      const Mention* other = work_.mention(t);
      if (other && other->is(SenseKind::hue) && !joined(mention.last, t)) break;
    }
    // Left of it: a rim word opens what this hue belongs to, unless a hue lies between.
    for (std::uint32_t t = mention.first, steps = 0; t > 0 && steps < reach + 1; --t, ++steps) {
      if (is_place(t - 1, SightKind::rim))
        return rim_speaks_forward(t - 1) && rim_is_at(t - 1);
      if (work_.stop_at(t, bits(Stop::clause))) return false;
      const Mention* other = work_.mention(t - 1);
      if (other && other->is(SenseKind::hue) && !joined(other->last, mention.first)) return false;
      if (is_place(t - 1, SightKind::colour)) return false;
    }
    return false;
  }

  bool rim_is_at(std::uint32_t token) {
    const Mention& rim = *work_.mention(token);
    trace(Step::at_rim, Attribute::phase, rim.first, rim.last);
    return true;
  }

  bool joined(std::uint32_t from, std::uint32_t to) const {
    for (std::uint32_t t = from; t < to; ++t)
      if (work_.stops[t] & bits(Stop::conjunction)) return true;
    return from == to;
  }

  // "ruby, brick rim, purple" has its hue already; "rim: brick" has not.
  bool rim_speaks_forward(std::uint32_t rim) const {
    const Mention* before = rim > 0 ? work_.mention(rim - 1) : nullptr;
    return !(before && before->is(SenseKind::hue));
  }

  // ---- faults, names ----

  void write_fault(Mention& mention) {
    FaultReading fault;
    const lexicon::FaultRecord& record = lexicon_.faults[mention.index];
    fault.fault = static_cast<Fault>(record.fault);
    fault.caution = lexicon_.string(record.caution);
    const Attributes its = attributes(mention.last - 1, &mention);
    fault.stance = its.stance;
    fault.when = its.when;
    fault.frame = its.frame;
    fault.cues = its.cues;
    const auto begin = static_cast<std::uint32_t>(note_.parts.size());
    note_.parts.push_back(work_.span(mention.first, mention.last));
    fault.spans = {begin, 1};
    account(mention.first, mention.last);
    mention.used = true;
    traced(Written::fault, !its.perceived(), work_.span(mention.first, mention.last),
           name_of(fault.fault), &mention);
    if (its.perceived())
      note_.condition.faults.push_back(fault);
    else
      note_.aside_faults.push_back(fault);
  }

  void write_name(Mention& mention) {
    const lexicon::NameRecord& record = lexicon_.names[mention.index];
    note_.names.push_back({static_cast<NameKind>(record.kind),
                           work_.span(mention.first, mention.last), lexicon_.string(record.name)});
    traced(Written::name, false, note_.names.back().span, note_.names.back().name, &mention);
    account(mention.first, mention.last);
    mention.used = true;
  }

  // "Most Riesling from here": the cue has the words, and a name in it is still a name.
  void write_names_in_cues() {
    const std::size_t before = note_.names.size();
    for (const CueUse& use : work_.cues)
      for (std::uint32_t t = use.first; t < use.last && use.last - use.first > 1; ++t) {
        const match::KnownWord& word = work_.known[t];
        if ((word.kinds & kind_bit(SenseKind::name)) == 0) continue;
        const Span span = work_.span(t, t + 1);
        for (const lexicon::Sense& sense : lexicon_.senses_of(word.root))
          if (sense.kind == SenseKind::name && !is_written(span)) write_inner_name(sense, span);
      }
    if (note_.names.size() == before) return;
    std::stable_sort(note_.names.begin(), note_.names.end(),
                     [](const Name& a, const Name& b) { return a.span.begin < b.span.begin; });
  }

  bool is_written(Span span) const {
    return std::any_of(note_.names.begin(), note_.names.end(), [&](const Name& name) {
      return name.span.begin <= span.begin && span.begin < name.span.end;
    });
  }

  void write_inner_name(const lexicon::Sense& sense, Span span) {
    const lexicon::NameRecord& record = lexicon_.names[sense.index];
    const auto kind = static_cast<NameKind>(record.kind);
    if (kind != NameKind::grape && kind != NameKind::place) return;
    note_.names.push_back({kind, span, lexicon_.string(record.name)});
    if (work_.trace) work_.trace->open.clear();
    traced(Written::name, false, span, note_.names.back().name, nullptr);
  }

  // ---- structure, quantities, coverage ----

  void write_structure(const StructureUse& use) {
    if (work_.trace) {
      work_.trace->open.clear();
      if (use.trace != lexicon::none) work_.trace->open = work_.trace->structures[use.trace];
    }
    const Attributes its = attributes(use.last - 1, nullptr, use.range.has_value());
    Reading reading;
    reading.dimension = use.dimension;
    reading.span = span_of(use);
    reading.range = use.range;
    reading.cues = its.cues;
    reading.phase = its.phase;
    reading.stance = use.negated ? Stance::denied : its.stance;
    reading.when = its.when;
    reading.frame = its.frame;
    // No level but the expression is read with the nose.
    if (use.dimension == Dimension::finish && reading.phase == Phase::overall)
      reading.phase = Phase::finish;
    else if (use.dimension != Dimension::expression && reading.phase == Phase::nose)
      reading.phase = Phase::overall;
    if (reading.phase != its.phase)
      trace(Step::phase_of_level, Attribute::phase, use.first, use.last);
    if (use.range || use.negated) {
      traced(Written::structure, !its.perceived(), reading.span, name_of(use.dimension), nullptr);
      (its.perceived() ? note_.readings : note_.aside_readings).push_back(reading);
    }
    for (const std::uint32_t trait : lexicon_.range(use.traits)) {
      Attributes kind = its;
      if (use.negated) kind.stance = Stance::denied;
      // A kind that comes with an amount rests on the same words as the reading.
      if (use.range && its.perceived() && kind.stance != Stance::denied) {
        auto& kinds = note_.structure[use.dimension].traits;
        if (!kinds.contains(trait_id(trait))) kinds.push_back(trait_id(trait));
        continue;
      }
      add_trait(trait_id(trait), work_.span(use.first, use.last), kind, use.dimension, nullptr);
    }
    account(use.first, use.last);
    account(use.anchor_first, use.anchor_last);
  }

  // The level with its anchor where nothing but small words stands between.
  Span span_of(const StructureUse& use) const {
    Span span = work_.span(use.first, use.last);
    if (use.anchor_last == use.anchor_first) return span;
    const Span anchor = work_.span(use.anchor_first, use.anchor_last);
    return {std::min(span.begin, anchor.begin), std::max(span.end, anchor.end)};
  }

  void write_quantity(const match::FoundQuantity& use) {
    Quantity quantity = use.quantity;
    if (work_.trace)
      work_.trace->open = {{Step::measure, {}, use.first, use.last, use.measure, {}, {}}};
    if (quantity.frame == Frame::tasting) {
      quantity.frame = work_.frames[use.first];
      if (const auto reach = work_.reach[static_cast<std::size_t>(Attribute::frame)][use.first];
          work_.trace && reach != 0)
        work_.trace->open.push_back({Step::cue, Attribute::frame, work_.cues[reach - 1].first,
                                     work_.cues[reach - 1].last, reach - 1, {}, {}});
    } else {
      trace(Step::measure_frame, Attribute::frame, use.first, use.last);
    }
    // "85% Merlot" is a share, whatever the number.
    const Mention* next = work_.mention(use.last);
    const bool percent = quantity.kind == QuantityKind::alcohol || quantity.kind == QuantityKind::share;
    if (percent && next && next->is(SenseKind::name) && next->first == use.last) {
      quantity.kind = QuantityKind::share;
      quantity.unit = "%";
      quantity.of = lexicon_.string(lexicon_.names[next->index].name);
      trace(Step::share_of, {}, next->first, next->last);
    }
    traced(Written::quantity, false, quantity.span, name_of(quantity.kind), nullptr);
    account(use.first, use.last);
    note_.quantities.push_back(std::move(quantity));
  }

  const CompiledLexicon& lexicon_;
  Workspace& work_;
  Note::Content& note_;
};

}  // namespace

void write_readings(const CompiledLexicon& lexicon, Workspace& work, Note::Content& note) {
  Writer(lexicon, work, note).write();
}

}  // namespace racking::context
