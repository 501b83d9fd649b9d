#include "study/markup.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdlib>

#include "racking/error.hpp"

namespace racking::study {

namespace {

[[noreturn]] void fail(std::string_view marked, std::size_t at, const std::string& what) {
  throw Error(ErrorCode::bad_argument, "mark-up, byte " + std::to_string(at) + ": " + what +
                                           " in \"" + std::string(marked) + "\"");
}

class Parser {
 public:
  explicit Parser(std::string_view marked) : marked_(marked) {}

  MarkedText parse() {
    while (at_ < marked_.size()) {
      if (marked_.substr(at_).starts_with("\\n")) {
        result_.text += '\n';
        at_ += 2;
      } else if (is_tag()) {
        marked_[at_ + 1] == '/' ? close() : open();
      } else {
        result_.text += marked_[at_++];
      }
    }
    if (!open_.empty()) fail(marked_, marked_.size(), "a tag is not closed");
    join_parts();
    return std::move(result_);
  }

 private:
  bool is_tag() const {
    if (marked_[at_] != '<' || at_ + 2 >= marked_.size()) return false;
    const bool closing = marked_[at_ + 1] == '/';
    const std::size_t letter = at_ + (closing ? 2 : 1);
    constexpr std::string_view tags = "asthfqnw";
    if (letter + 1 >= marked_.size() || tags.find(marked_[letter]) == std::string_view::npos)
      return false;
    return closing ? marked_[letter + 1] == '>'
                   : marked_[letter + 1] == ' ' || marked_[letter + 1] == '>';
  }

  void open() {
    Mark mark;
    mark.tag = marked_[at_ + 1];
    at_ += 2;
    while (at_ < marked_.size() && marked_[at_] != '>') {
      if (marked_[at_] == ' ') {
        ++at_;
        continue;
      }
      read_attribute(mark);
    }
    if (at_ >= marked_.size()) fail(marked_, at_, "a tag has no '>'");
    ++at_;
    const auto begin = static_cast<std::uint32_t>(result_.text.size());
    mark.parts.push_back({begin, begin});
    // Where a wine begins is a place, with nothing inside.
    (mark.tag == 'w' ? result_.marks : open_).push_back(std::move(mark));
  }

  void read_attribute(Mark& mark) {
    const std::size_t equals = marked_.find('=', at_);
    if (equals == std::string_view::npos) fail(marked_, at_, "an attribute has no '='");
    const std::string name(marked_.substr(at_, equals - at_));
    at_ = equals + 1;
    std::size_t end;
    std::string value;
    if (at_ < marked_.size() && marked_[at_] == '"') {
      end = marked_.find('"', at_ + 1);
      if (end == std::string_view::npos) fail(marked_, at_, "a quote is not closed");
      value = marked_.substr(at_ + 1, end - at_ - 1);
      ++end;
    } else {
      end = std::min(marked_.find(' ', at_), marked_.find('>', at_));
      if (end == std::string_view::npos) fail(marked_, at_, "a tag has no '>'");
      value = marked_.substr(at_, end - at_);
    }
    mark.attributes[name] = value;
    at_ = end;
  }

  void close() {
    if (open_.empty() || open_.back().tag != marked_[at_ + 2])
      fail(marked_, at_, "a tag closes what is not open");
    open_.back().parts.back().end = static_cast<std::uint32_t>(result_.text.size());
    result_.marks.push_back(std::move(open_.back()));
    open_.pop_back();
    at_ += 4;
  }

  // Pieces of one item carry the same `part` and the same d, f.
  void join_parts() {
    std::vector<Mark> joined;
    for (Mark& mark : result_.marks) {
      const std::string_view part = mark.attribute("part");
      const auto whole = std::find_if(joined.begin(), joined.end(), [&](const Mark& other) {
        return !part.empty() && other.tag == mark.tag && other.attribute("part") == part &&
               other.attribute("d") == mark.attribute("d") &&
               other.attribute("f") == mark.attribute("f");
      });
      if (whole == joined.end()) {
        joined.push_back(std::move(mark));
        continue;
      }
      whole->parts.insert(whole->parts.end(), mark.parts.begin(), mark.parts.end());
      std::sort(whole->parts.begin(), whole->parts.end());
    }
    std::stable_sort(joined.begin(), joined.end(), [](const Mark& a, const Mark& b) {
      return a.parts.front().begin < b.parts.front().begin;
    });
    result_.marks = std::move(joined);
  }

  std::string_view marked_;
  std::size_t at_ = 0;
  MarkedText result_;
  std::vector<Mark> open_;
};

std::optional<Interval> parse_range(std::string_view text) {
  if (text.size() == 1) {
    const auto step = static_cast<std::uint8_t>(text[0] - '0');
    return Interval{step, step};
  }
  if (text.size() == 3 && text[1] == '-')
    return Interval{static_cast<std::uint8_t>(text[0] - '0'),
                    static_cast<std::uint8_t>(text[2] - '0')};
  return std::nullopt;
}

std::string with_spaces(std::string_view id) {
  std::string out(id);
  std::replace(out.begin(), out.end(), '-', ' ');
  return out;
}

// A range is right if it overlaps the marked one and is at most one step wider (reading.md).
bool agrees(Interval expected, Interval found) {
  return found.low <= expected.high && expected.low <= found.high &&
         found.width() <= expected.width() + 1;
}

class Comparer {
 public:
  Comparer(const MarkedText& expected, const Note& note) : expected_(expected), note_(note) {}

  Comparison compare() {
    aromas();
    structure();
    hues();
    faults();
    others();
    wines();
    return std::move(result_);
  }

 private:
  std::string quote(Span span) const {
    return "\"" + expected_.text.substr(span.begin, span.size()) + "\"";
  }
  void mistake(std::string words) { result_.mistakes.push_back(std::move(words)); }

  static bool is_aside(const Mark& mark) {
    const std::string_view frame = mark.attribute("frame"), when = mark.attribute("when");
    return (!frame.empty() && frame != "tasting") || when == "later" || when == "before";
  }

  template <class Range>
  static const Aroma* with_span(const Range& aromas, Span span, std::vector<bool>& taken) {
    for (std::size_t i = 0; i < aromas.size(); ++i)
      if (!taken[i] && aromas[i].span == span) {
        taken[i] = true;
        return &aromas[i];
      }
    return nullptr;
  }

  void aromas() {
    const auto found = note_.aromas();
    std::vector<bool> taken(found.size(), false);
    for (const Mark& mark : expected_.marks) {
      if (mark.tag != 'a') continue;
      if (is_aside(mark)) {
        aside(mark);
        continue;
      }
      const Aroma* aroma = with_span(found, mark.hull(), taken);
      if (!aroma) {
        ++result_.tally.aromas_missed;
        mistake("missed aroma " + quote(mark.hull()));
        continue;
      }
      ++result_.tally.aromas_right;
      aroma_details(mark, *aroma);
    }
    for (std::size_t i = 0; i < found.size(); ++i)
      if (!taken[i]) {
        ++result_.tally.aromas_extra;
        mistake("extra aroma " + quote(found[i].span) + " (" +
                std::string(found[i].descriptor.id()) + ")");
      }
  }

  void aside(const Mark& mark) {
    for (const Aroma& aroma : note_.aromas())
      if (aroma.span.overlaps(mark.hull())) {
        ++result_.tally.asides_wrong;
        mistake("aside " + quote(mark.hull()) + " read as found in the wine");
        return;
      }
    ++result_.tally.asides_right;
  }

  bool in_family(const Aroma& aroma, std::string_view family) const {
    if (aroma.descriptor.family().id() == family) return true;
    for (const Descriptor parent : aroma.descriptor.parents())
      if (parent.id() == family || (parent.family() && parent.family().id() == family)) return true;
    return false;
  }

  void aroma_details(const Mark& mark, const Aroma& aroma) {
    Tally& tally = result_.tally;
    const std::string_view id = mark.attribute("d"), family = mark.attribute("f");
    if (!id.empty() || !family.empty()) {
      const bool right =
          id.empty() ? in_family(aroma, family) : aroma.descriptor.id() == id;
      ++(right ? tally.families_right : tally.families_wrong);
      if (!right)
        mistake(quote(aroma.span) + " is " + std::string(aroma.descriptor.family().id()) + "/" +
                std::string(aroma.descriptor.id()) + ", not " +
                std::string(id.empty() ? family : id));
    }
    const std::string_view stance = mark.attribute("stance");
    const bool stance_right = name_of(aroma.stance) == (stance.empty() ? "stated" : stance);
    ++(stance_right ? tally.stances_right : tally.stances_wrong);
    if (!stance_right) mistake(quote(aroma.span) + " is " + std::string(name_of(aroma.stance)));
    if (const std::string_view phase = mark.attribute("phase"); !phase.empty()) {
      const bool right = name_of(aroma.phase) == phase;
      ++(right ? tally.phases_right : tally.phases_wrong);
      if (!right)
        mistake(quote(aroma.span) + " has phase " + std::string(name_of(aroma.phase)) +
                ", not " + std::string(phase));
    }
    check(mark, "when", name_of(aroma.when), aroma.span);
    if (const auto strength = parse_range(mark.attribute("strength"));
        strength && (!aroma.strength || !agrees(*strength, *aroma.strength)))
      mistake(quote(aroma.span) + " has another strength");
    states(mark, aroma);
  }

  void states(const Mark& mark, const Aroma& aroma) {
    std::string_view rest = mark.attribute("state");
    while (!rest.empty()) {
      const std::size_t comma = std::min(rest.find(','), rest.size());
      const auto state = parse<State>(rest.substr(0, comma));
      if (!state || !has(aroma.state, *state))
        mistake(quote(aroma.span) + " is not " + std::string(rest.substr(0, comma)));
      rest.remove_prefix(std::min(comma + 1, rest.size()));
    }
  }

  void check(const Mark& mark, std::string_view name, std::string_view found, Span span) {
    const std::string_view wanted = mark.attribute(name);
    if (!wanted.empty() && with_spaces(wanted) != found)
      mistake(quote(span) + " has " + std::string(name) + " " + std::string(found) + ", not " +
              std::string(wanted));
  }

  void structure() {
    const auto found = note_.readings();
    std::vector<bool> taken(found.size(), false);
    for (const Mark& mark : expected_.marks) {
      if (mark.tag != 's' || is_aside(mark)) continue;
      const auto dimension = parse<Dimension>(mark.attribute("dim"));
      const auto range = parse_range(mark.attribute("range"));
      bool right = false;
      for (std::size_t i = 0; i < found.size() && !right; ++i) {
        const Reading& reading = found[i];
        if (taken[i] || !dimension || reading.dimension != *dimension ||
            !reading.span.overlaps(mark.hull()))
          continue;
        if (range && (!reading.range || !agrees(*range, *reading.range))) continue;
        const std::string_view stance = mark.attribute("stance");
        if (!stance.empty() && name_of(reading.stance) != stance) continue;
        taken[i] = right = true;
      }
      ++(right ? result_.tally.structure_right : result_.tally.structure_missed);
      if (!right)
        mistake("missed " + std::string(mark.attribute("dim")) + " " +
                std::string(mark.attribute("range")) + " " + quote(mark.hull()));
    }
    for (std::size_t i = 0; i < found.size(); ++i) {
      if (taken[i] || supports(found[i])) continue;
      ++result_.tally.structure_extra;
      const auto& range = found[i].range;
      mistake("extra " + std::string(name_of(found[i].dimension)) + " " +
              (range ? std::to_string(range->low) + "-" + std::to_string(range->high) : "denied") +
              " " + quote(found[i].span));
    }
  }

  // A second reading inside one mark ("firm, ripe tannins" marked as one) is no mistake.
  bool supports(const Reading& reading) const {
    return std::any_of(expected_.marks.begin(), expected_.marks.end(), [&](const Mark& mark) {
      if (mark.tag != 's' || !reading.span.overlaps(mark.hull())) return false;
      const auto range = parse_range(mark.attribute("range"));
      return parse<Dimension>(mark.attribute("dim")) == reading.dimension &&
             (!range || !reading.range ||
              (reading.range->low <= range->high && range->low <= reading.range->high));
    });
  }

  void hues() {
    std::vector<bool> taken(note_.sight().size(), false);
    for (const Mark& mark : expected_.marks) {
      if (mark.tag != 'h' || is_aside(mark)) continue;
      const auto hue = parse<Hue>(with_spaces(mark.attribute("hue")));
      const SightPart part = mark.attribute("at") == "rim" ? SightPart::rim : SightPart::core;
      bool right = false;
      for (std::size_t i = 0; i < note_.sight().size() && !right; ++i) {
        const Sight& sight = note_.sight()[i];
        if (taken[i] || !sight.hue || !hue || *sight.hue != *hue ||
            !sight.span.overlaps(mark.hull()) || sight.part != part)
          continue;
        taken[i] = right = true;
      }
      ++(right ? result_.tally.hues_right : result_.tally.hues_missed);
      if (!right)
        mistake("missed hue " + std::string(mark.attribute("hue")) + " at " +
                (part == SightPart::rim ? "rim " : "core ") + quote(mark.hull()));
    }
    for (std::size_t i = 0; i < note_.sight().size(); ++i)
      if (!taken[i] && note_.sight()[i].hue) {
        ++result_.tally.hues_extra;
        mistake("extra hue " + std::string(name_of(*note_.sight()[i].hue)) + " " +
                quote(note_.sight()[i].span));
      }
  }

  void faults() {
    std::vector<bool> taken(note_.condition().faults.size(), false);
    for (const Mark& mark : expected_.marks) {
      if (mark.tag != 'f' || is_aside(mark)) continue;
      const std::string_view stance = mark.attribute("stance");
      bool right = false;
      for (std::size_t i = 0; i < taken.size() && !right; ++i) {
        const FaultReading& fault = note_.condition().faults[i];
        if (taken[i] || name_of(fault.fault) != with_spaces(mark.attribute("fault")) ||
            name_of(fault.stance) != (stance.empty() ? "stated" : stance))
          continue;
        taken[i] = right = true;
      }
      ++(right ? result_.tally.faults_right : result_.tally.faults_missed);
      if (!right)
        mistake("missed fault " + std::string(mark.attribute("fault")) + " " + quote(mark.hull()));
    }
    for (std::size_t i = 0; i < taken.size(); ++i)
      if (!taken[i]) {
        const FaultReading& fault = note_.condition().faults[i];
        const bool twice = std::any_of(
            expected_.marks.begin(), expected_.marks.end(), [&](const Mark& mark) {
              return mark.tag == 'f' && with_spaces(mark.attribute("fault")) == name_of(fault.fault) &&
                     fault.spans.count == 0;
            });
        if (twice) continue;
        ++result_.tally.faults_extra;
        mistake("extra fault " + std::string(name_of(fault.fault)) + ", " +
                std::string(name_of(fault.stance)));
      }
  }

  void others() {
    for (const Mark& mark : expected_.marks) {
      if (mark.tag != 'q' && mark.tag != 'n' && mark.tag != 't') continue;
      const bool right = mark.tag == 'q'   ? has_quantity(mark)
                         : mark.tag == 'n' ? has_name(mark)
                                           : has_trait(mark);
      ++(right ? result_.tally.others_right : result_.tally.others_missed);
      if (!right) mistake(std::string("missed ") + mark.tag + " " + quote(mark.hull()));
    }
  }

  // The parts agree if each thing marked falls to the same wine; one begin marked is one wine.
  void wines() {
    std::vector<Span> expected, found;
    for (const Mark& mark : expected_.marks)
      if (mark.tag == 'w') expected.push_back(mark.hull());
    if (expected.empty()) return;
    for (const TextProblem& problem : note_.problems())
      if (problem.code == "several-wines") found.push_back(problem.span);
    const std::size_t count = std::max<std::size_t>(found.size(), 1);
    if (count != expected.size())
      return mistake("read as " + std::to_string(count) + " wines, not " +
                     std::to_string(expected.size()));
    const auto wine_of = [](const std::vector<Span>& begins, Span span) {
      return std::count_if(begins.begin(), begins.end(),
                           [&](Span begin) { return begin.begin <= span.begin; });
    };
    for (const Mark& mark : expected_.marks)
      if (count > 1 && mark.tag != 'w' &&
          wine_of(expected, mark.hull()) != wine_of(found, mark.hull()))
        return mistake(quote(mark.hull()) + " falls to another wine");
  }

  bool has_quantity(const Mark& mark) const {
    const std::string wanted = with_spaces(mark.attribute("kind"));
    const std::string value(mark.attribute("value"));
    return std::any_of(note_.quantities().begin(), note_.quantities().end(),
                       [&](const Quantity& quantity) {
                         if (name_of(quantity.kind) != wanted) return false;
                         if (!quantity.span.overlaps(mark.hull())) return false;
                         if (value.empty() || !quantity.value) return true;
                         return std::abs(*quantity.value - std::strtod(value.c_str(), nullptr)) <
                                1e-6;
                       });
  }

  bool has_name(const Mark& mark) const {
    return std::any_of(note_.names().begin(), note_.names().end(), [&](const Name& name) {
      const std::string_view kind = mark.attribute("kind");
      return name.span == mark.hull() && (kind.empty() || name_of(name.kind) == kind);
    });
  }

  bool has_trait(const Mark& mark) const {
    return std::any_of(note_.traits().begin(), note_.traits().end(), [&](const Trait& trait) {
      return trait.id == mark.attribute("trait") && trait.span.overlaps(mark.hull());
    });
  }

  const MarkedText& expected_;
  const Note& note_;
  Comparison result_;
};

}  // namespace

MarkedText parse_marked(std::string_view marked) { return Parser(marked).parse(); }

Comparison compare(const MarkedText& expected, const Note& note) {
  return Comparer(expected, note).compare();
}

Tally& Tally::operator+=(const Tally& o) noexcept {
  aromas_right += o.aromas_right;
  aromas_missed += o.aromas_missed;
  aromas_extra += o.aromas_extra;
  families_right += o.families_right;
  families_wrong += o.families_wrong;
  stances_right += o.stances_right;
  stances_wrong += o.stances_wrong;
  phases_right += o.phases_right;
  phases_wrong += o.phases_wrong;
  asides_right += o.asides_right;
  asides_wrong += o.asides_wrong;
  structure_right += o.structure_right;
  structure_missed += o.structure_missed;
  structure_extra += o.structure_extra;
  hues_right += o.hues_right;
  hues_missed += o.hues_missed;
  hues_extra += o.hues_extra;
  faults_right += o.faults_right;
  faults_missed += o.faults_missed;
  faults_extra += o.faults_extra;
  others_right += o.others_right;
  others_missed += o.others_missed;
  return *this;
}

}  // namespace racking::study
