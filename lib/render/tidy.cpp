// The cleaned note. Order: aroma and taste, how it strikes one, structure, look, figures,
// the taster's own words for what did not map, what to do with it, and condition last.
#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "lexicon/compiled.hpp"
#include "note_content.hpp"
#include "racking/note.hpp"
#include "render/tidy_aromas.hpp"
#include "render/tidy_words.hpp"

namespace racking {
inline namespace v1 {

namespace {

using render::as_sentence;
using render::listed;

bool is_space(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }

// One line, single spaces, no mark hanging at either end.
std::string cleaned(std::string_view words) {
  std::string out;
  for (const char c : words) {
    if (!is_space(c)) out += c;
    else if (!out.empty() && out.back() != ' ') out += ' ';
  }
  constexpr std::string_view before = " .,;:-!?)/&|", after = " ,;:-(/&|";
  const auto first = out.find_first_not_of(before);
  if (first == std::string::npos) return {};
  const auto last = out.find_last_not_of(after);
  return out.substr(first, last - first + 1);
}

// A sentence opened by "but" or "and" stands without it.
std::string without_opening_joint(std::string words) {
  for (const std::string_view joint : {"and ", "but ", "And ", "But ", "or ", "Or "})
    if (words.rfind(joint, 0) == 0) return words.substr(joint.size());
  return words;
}

std::string led_by(std::string_view lead, const std::string& words) {
  std::string out(lead);
  return out.append(words);
}

std::string decimal(double value) {
  std::array<char, 32> digits;
  const auto end = std::to_chars(digits.data(), digits.data() + digits.size(),
                                 std::round(value * 1000.0) / 1000.0, std::chars_format::fixed);
  return {digits.data(), end.ptr};
}

// Spans merged and sorted, so that long notes ask quickly.
class Cover {
 public:
  void add(Span span) { spans_.push_back(span); }
  void settle() {
    std::sort(spans_.begin(), spans_.end());
    std::vector<Span> merged;
    for (const Span span : spans_) {
      if (!merged.empty() && span.begin <= merged.back().end)
        merged.back().end = std::max(merged.back().end, span.end);
      else
        merged.push_back(span);
    }
    spans_ = std::move(merged);
  }
  bool overlaps(Span span) const {
    const auto at = std::partition_point(spans_.begin(), spans_.end(),
                                         [&](Span one) { return one.end <= span.begin; });
    return at != spans_.end() && at->overlaps(span);
  }

 private:
  std::vector<Span> spans_;
};

class TidyWriter {
 public:
  explicit TidyWriter(const Note& note) : note_(note), content_(note.content()) {
    const auto add = [&](const auto& all) {
      for (const auto& one : all) read_.add(one.span);
    };
    add(content_.aromas);
    add(content_.readings);
    add(content_.traits);
    add(content_.sight);
    add(content_.names);
    add(content_.quantities);
    add(content_.aside_aromas);
    add(content_.aside_readings);
    read_.settle();
  }

  std::string write() {
    write_aromas();
    write_traits();
    write_structure();
    write_sight();
    write_quantities();
    find_closing_statements();
    write_own_words();
    write_closing_statements();
    write_condition();
    return std::move(out_);
  }

 private:
  void sentence(std::string words) {
    words = as_sentence(std::move(words));
    if (words.empty()) return;
    if (!out_.empty()) out_ += ' ';
    out_ += words;
  }

  // ---- aroma and taste ----

  void write_aromas() {
    const bool nose_said = write_expression();
    constexpr std::array<Phase, 4> order{Phase::nose, Phase::palate, Phase::overall,
                                         Phase::finish};
    for (const Phase phase : order) {
      render::AromaList list(content_.lexicon);
      for (const Aroma& aroma : content_.aromas) {
        // What stands among words of sight was smelled or tasted all the same.
        const Phase its = aroma.phase == Phase::sight ? Phase::overall : aroma.phase;
        if (its == phase && aroma.when != When::with_air) list.add(note_, aroma);
      }
      sentence(list.sentence(phase, nose_said));
    }
    render::AromaList aired(content_.lexicon);
    for (const Aroma& aroma : content_.aromas)
      if (aroma.when == When::with_air) aired.add(note_, aroma);
    sentence(aired.aired_sentence());
  }

  bool write_expression() {
    const std::string words = level(Dimension::expression);
    sentence(words);
    return !words.empty() && !is_hedged(Dimension::expression);
  }

  // ---- traits ----

  // One-word traits make a plain list; a longer turn of phrase is quoted with the taster's
  // own words.
  void write_traits() {
    std::vector<std::string> stated, hedged, denied;
    std::vector<std::string_view> seen;
    for (const Trait& trait : content_.traits) {
      if (trait.dimension) continue;
      std::string words = render::lowered(note_.text(trait.span));
      if (words.find_first_of(" \t\n") != std::string::npos) {
        own_.push_back(trait.span);
        continue;
      }
      // "Dusty" is a smell too. A noun ("texture", "charm") stands as the adjective that the
      // trait is called by.
      if (content_.lexicon.find_form(words))
        words += " in texture";
      else if (!render::looks_adjective(words) && !speaks_alone(trait.id)) words = trait.id;
      if (std::find(seen.begin(), seen.end(), trait.id) != seen.end()) continue;
      seen.push_back(trait.id);
      (trait.stance == Stance::stated   ? stated
       : trait.stance == Stance::hedged ? hedged
                                        : denied)
          .push_back(words);
    }
    // A level alone in its sentence would be read as one: "firm", of tannin.
    if (stated.size() + hedged.size() + denied.size() == 1)
      for (std::vector<std::string>* list : {&stated, &hedged, &denied})
        for (std::string& one : *list)
          if (level_of(one)) one += " in style";
    for (const std::string& one : hedged) stated.push_back(led_by("perhaps ", one));
    std::string words = listed(stated, "and");
    if (!denied.empty()) {
      if (!words.empty()) words += ", but ";
      words += led_by("not ", listed(denied, "or"));
    }
    sentence(std::move(words));
  }

  // ---- structure ----

  bool is_hedged(Dimension dimension) const {
    for (const std::uint32_t index : content_.structure[dimension].readings) {
      const Reading& reading = content_.readings[index];
      if (reading.range && reading.when == When::now && reading.stance == Stance::stated)
        return false;
    }
    return true;
  }

  // The level that an id of a trait, its hyphens open, is a form of; null if none.
  const lexicon::LevelRecord* level_of(std::string_view id) const {
    const lexicon::CompiledLexicon& lexicon = *content_.lexicon.compiled();
    lexicon::NodeId node = 0;
    for (std::size_t at = 0; at < id.size();) {
      const std::size_t end = std::min(id.find('-', at), id.size());
      node = lexicon.step(node, lexicon.word(id.substr(at, end - at)));
      if (node == 0) return nullptr;
      at = end + 1;
    }
    for (const lexicon::Sense& sense : lexicon.senses_of(node))
      if (sense.kind == lexicon::SenseKind::level) return &lexicon.levels[sense.index];
    return nullptr;
  }

  // It would state a level with no noun beside it, as "crisp" does.
  bool speaks_alone(std::string_view id) const {
    const lexicon::LevelRecord* record = level_of(id);
    return record && record->alone != lexicon::unset;
  }

  // What a word means as a level of a dimension, if it means one.
  std::optional<Interval> meaning(std::string_view word, Dimension dimension) const {
    const lexicon::LevelRecord* record = level_of(word);
    const auto d = static_cast<std::size_t>(dimension);
    if (!record || record->low[d] == 0) return std::nullopt;
    return Interval{record->low[d], record->high[d]};
  }

  // Words of kind stand before the amount ("silky, light to evident tannins") where they
  // add a kind and would not narrow the amount when read again.
  std::string kinds(Dimension dimension, const Level& level, const std::string& amount) const {
    std::string words;
    if (level.conflict) return words;
    for (const std::string_view trait : level.traits) {
      if (amount.find(trait) != std::string::npos) continue;
      const auto range = meaning(trait, dimension);
      if (!range || range->low > level.range->low || range->high < level.range->high) continue;
      words.append(trait).append(", ");
    }
    return words;
  }

  std::string level(Dimension dimension) {
    const Level& level = content_.structure[dimension];
    if (!level.stated()) return {};
    if (!level.range) {
      for (const std::uint32_t index : level.readings) own_.push_back(content_.readings[index].span);
      return {};
    }
    const std::string amount = render::level_words(dimension, *level.range);
    std::string words = render::level_phrase(dimension, kinds(dimension, level, amount) + amount);
    if (dimension == Dimension::sparkle && *level.range == Interval{1, 1}) words = "no bubbles";
    if (is_hedged(dimension)) words = led_by("perhaps ", words);
    if (level.conflict) words += " (said both ways)";
    return words;
  }

  void write_structure() {
    constexpr std::array<Dimension, 4> middle{Dimension::acidity, Dimension::tannin,
                                              Dimension::body, Dimension::alcohol};
    std::vector<std::string> stated, hedged;
    for (const Dimension dimension : middle) {
      std::string words = level(dimension);
      if (words.empty()) continue;
      (is_hedged(dimension) ? hedged : stated).push_back(std::move(words));
    }
    stated.insert(stated.end(), hedged.begin(), hedged.end());
    const std::string sweetness = level(Dimension::sweetness);
    if (!sweetness.empty() && stated.size() == 1) {
      sentence(sweetness + ", with " + stated.front());
    } else {
      sentence(sweetness);
      sentence(render::set_apart(stated));
    }
    sentence(level(Dimension::sparkle));
    sentence(level(Dimension::finish));
  }

  // ---- look ----

  static std::string with_stance(Stance stance, std::string_view words) {
    std::string out(stance == Stance::hedged ? "perhaps " : stance == Stance::denied ? "no " : "");
    return out.append(words);
  }

  const Sight* depth() const {
    for (const Sight& one : content_.sight)
      if (one.part == SightPart::depth && one.range && one.stance != Stance::denied) return &one;
    return nullptr;
  }

  std::vector<std::string> hues(SightPart part) const {
    std::vector<std::string> words;
    for (const Sight& one : content_.sight) {
      if (one.part != part || !one.hue) continue;
      std::string hue = with_stance(one.stance, name_of(*one.hue));
      if (std::find(words.begin(), words.end(), hue) == words.end()) words.push_back(std::move(hue));
    }
    return words;
  }

  void write_hues() {
    const std::vector<std::string> core = hues(SightPart::core), rim = hues(SightPart::rim);
    const Sight* deep = depth();
    std::string words;
    if (deep) words = with_stance(deep->stance, render::depth_words(*deep->range));
    if (!core.empty()) {
      if (!words.empty()) words += ' ';
      words += listed(core, "and") + (rim.empty() ? " in colour" : " at the core");
    } else if (deep) {
      words += " in colour";
    }
    if (!rim.empty()) {
      if (!words.empty()) words += ", ";
      words += listed(rim, "and") + " at the rim";
    }
    sentence(std::move(words));
  }

  void write_sight() {
    write_hues();
    std::vector<std::string> seen;
    for (const Sight& one : content_.sight) {
      if (one.part == SightPart::core || one.part == SightPart::rim) continue;
      if (one.part == SightPart::depth && (one.stance == Stance::denied || !one.range)) {
        own_.push_back(one.span);
        continue;
      }
      if (one.part == SightPart::depth) continue;
      const std::string_view words = render::seen_words(one.part, one.value);
      if (words.empty() || one.stance == Stance::denied) {
        own_.push_back(one.span);
        continue;
      }
      std::string item = with_stance(one.stance, words);
      if (std::find(seen.begin(), seen.end(), item) == seen.end()) seen.push_back(std::move(item));
    }
    sentence(listed(seen, "and"));
  }

  // ---- figures ----

  static std::string amount(const Quantity& quantity) {
    std::string words;
    if (quantity.value)
      words = decimal(*quantity.value);
    else if (quantity.low && quantity.high)
      words = decimal(*quantity.low) + " to " + decimal(*quantity.high);
    else if (quantity.low)
      words = "at least " + decimal(*quantity.low);
    else if (quantity.high)
      words = "up to " + decimal(*quantity.high);
    if (quantity.kind == QuantityKind::score && quantity.out_of)
      return words + "/" + decimal(*quantity.out_of);
    if (!quantity.unit.empty() && quantity.unit != "pH") words.append(" ").append(quantity.unit);
    return words;
  }

  // A share is of a grape; of what else, only the taster's own words say.
  bool has_name(Span span) const {
    return std::any_of(content_.names.begin(), content_.names.end(),
                       [&](const Name& name) { return name.span.overlaps(span); });
  }

  void write_quantities() {
    std::vector<std::string> figures;
    for (const Quantity& one : content_.quantities) {
      if (one.frame != Frame::tasting) continue;
      std::string words(render::quantity_words(one.kind));
      if (one.kind == QuantityKind::share) {
        if (!has_name(one.span)) {
          own_.push_back(one.span);
          continue;
        }
        words = amount(one);
        if (!one.of.empty()) words.append(" ").append(one.of);
      } else {
        words.append(" ").append(amount(one));
      }
      if (std::find(figures.begin(), figures.end(), words) == figures.end())
        figures.push_back(std::move(words));
    }
    sentence(listed(figures, "and"));
  }

  // ---- the taster's own words ----

  static bool closes(Frame frame) {
    return frame == Frame::pairing || frame == Frame::serving || frame == Frame::outlook;
  }

  // Food, serving and outlook stay as the taster wrote them, sentence by sentence.
  void find_closing_statements() {
    for (const Statement& one : content_.statements) {
      if (!closes(one.frame)) continue;
      if (!closing_.empty() && closing_.back().frame == one.frame &&
          !ends_sentence({closing_.back().span.begin, one.span.begin}))
        closing_.back().span.end = one.span.end;
      else
        closing_.push_back(one);
    }
    // "Drink now with oysters" is of two frames, and one sentence.
    std::vector<Statement> whole;
    for (const Statement& one : closing_) {
      const std::uint32_t begin = opening(one.span.begin);
      if (!whole.empty() && begin < whole.back().span.end) {
        whole.back().span.end = one.span.end;
        continue;
      }
      whole.push_back(one);
      whole.back().span.begin = begin;
    }
    closing_ = std::move(whole);
    for (const Statement& one : closing_) closed_.add(one.span);
    closed_.settle();
  }

  // The nearest marks of a clause; past the longest quotation it does not matter where.
  std::uint32_t clause_begin(std::uint32_t at) const {
    const std::uint32_t from = at - std::min(at, longest_quotation + 1);
    const auto window = std::string_view(note_.text()).substr(from, at - from);
    const auto mark = window.find_last_of(clause_marks);
    return from + static_cast<std::uint32_t>(mark == std::string_view::npos ? 0 : mark + 1);
  }
  std::uint32_t clause_end(std::uint32_t at) const {
    const auto window = std::string_view(note_.text()).substr(at, longest_quotation + 1);
    const auto mark = window.find_first_of(clause_marks);
    return at + static_cast<std::uint32_t>(mark == std::string_view::npos ? window.size() : mark);
  }
  // Where the clause begins, if nothing that was read stands between.
  std::uint32_t opening(std::uint32_t at) const {
    const std::uint32_t begin = clause_begin(at);
    return at - begin > longest_quotation || is_read({begin, at}) ? at : begin;
  }

  bool ends_sentence(Span span) const {
    std::string_view words = note_.text(span);
    while (!words.empty() && is_space(words.back())) words.remove_suffix(1);
    return words.empty() || std::string_view(".!?").find(words.back()) != std::string_view::npos;
  }

  void write_closing_statements() {
    for (const Statement& one : closing_)
      sentence(without_opening_joint(cleaned(note_.text(one.span))));
  }

  // Something read already stands there: to quote it would say it twice.
  bool is_read(Span gap) const { return read_.overlaps(gap); }

  // "Night and day": small words between two unmapped ones belong to the quotation.
  bool belong_together(Span before, Span after) const {
    constexpr std::uint32_t widest = 24;
    if (after.begin < before.end || after.begin - before.end > widest) return false;
    const Span gap{before.end, after.begin};
    return note_.text(gap).find_first_of(".!?;:,()\n\"") == std::string_view::npos && !is_read(gap);
  }

  // A word alone says little: where nothing else of its clause was read, the clause is quoted.
  Span in_clause(Span span) const {
    const Span clause{clause_begin(span.begin), clause_end(span.end)};
    return clause.size() <= longest_quotation && !is_read(clause) ? clause : span;
  }

  void write_own_words() {
    for (const Span span : content_.unmapped) own_.push_back(in_clause(span));
    std::sort(own_.begin(), own_.end());
    std::vector<Span> joined;
    for (const Span span : own_) {
      if (closed_.overlaps(span)) continue;
      if (!joined.empty() && span.begin < joined.back().end)
        joined.back().end = std::max(joined.back().end, span.end);
      else if (!joined.empty() && belong_together(joined.back(), span))
        joined.back().end = span.end;
      else
        joined.push_back(span);
    }
    std::set<std::string> quoted;
    std::string all = "In the taster's words: ";
    for (const Span span : joined) {
      const std::string words = cleaned(note_.text(span));
      if (words.empty() || !quoted.insert(words).second) continue;
      all.append(quoted.size() == 1 ? "" : ", ").append("\u201C").append(words).append("\u201D");
    }
    if (!quoted.empty()) sentence(std::move(all));
  }

  // ---- condition ----

  void write_condition() {
    std::vector<std::string> stated, hedged, denied;
    for (const FaultReading& fault : content_.condition.faults) {
      const std::string name(fault.fault == Fault::other ? "a fault without a name"
                                                         : name_of(fault.fault));
      (fault.stance == Stance::stated   ? stated
       : fault.stance == Stance::hedged ? hedged
                                        : denied)
          .push_back(name);
    }
    if (!denied.empty()) sentence(led_by("no ", listed(denied, "or")));
    if (!stated.empty()) sentence(led_by("out of condition: ", listed(stated, "and")));
    if (!hedged.empty())
      sentence(led_by("some doubt about its condition: perhaps ", listed(hedged, "or")));
  }

  static constexpr std::uint32_t longest_quotation = 80;   // bytes
  static constexpr std::string_view clause_marks = ".,;:!?()\n\"";

  const Note& note_;
  const Note::Content& content_;
  std::string out_;
  std::vector<Span> own_;            // to be quoted as they stand
  std::vector<Statement> closing_;
  Cover read_, closed_;
};

}  // namespace

std::string Note::tidy() const { return TidyWriter(*this).write(); }

}  // namespace v1
}  // namespace racking
