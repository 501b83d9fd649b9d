// The record of a note: `Note::to_json`. Names and order are those of note.schema.json.
#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <optional>
#include <vector>

#include "explain/explainer.hpp"
#include "lexicon/compiled.hpp"
#include "note_content.hpp"
#include "racking/note.hpp"
#include "render/json.hpp"
#include "text/offsets.hpp"

namespace racking {
inline namespace v1 {

namespace {

constexpr int schema_version = 1;

std::string_view name_of_part(SightPart part) {
  constexpr std::array<std::string_view, 7> names{"core",    "rim",     "depth", "clarity",
                                                  "deposit", "bubbles", "tears"};
  return names[static_cast<std::size_t>(part)];
}

std::string_view name_of_offsets(Offsets offsets) {
  switch (offsets) {
    case Offsets::byte: return "byte";
    case Offsets::utf16: return "utf16";
    case Offsets::codepoint: break;
  }
  return "codepoint";
}

// Something of an aside, so that the five kinds can be put in the order of the text.
struct AsideUse {
  enum class Kind : std::uint8_t { aroma, structure, trait, sight, fault };
  Span span;
  Kind kind;
  std::uint32_t index;
};

class RecordWriter {
 public:
  RecordWriter(const Note& note, const JsonOptions& options, std::string& out)
      : note_(note), content_(note.content()), options_(options),
        full_(options.depth == JsonOptions::Depth::full), json_(out, !full_),
        offset_(note.text(), options.offsets) {
    if (options.explain && content_.machine != nullptr) explainer_.emplace(content_);
  }

  void write() {
    // Not through `open`: what came before in `out` is no part of the record.
    json_.out() += '{';
    write_head();
    write_wine();
    write_list("statements", content_.statements, &RecordWriter::statement);
    write_list("aromas", content_.aromas, &RecordWriter::aroma);
    write_level("expression", Dimension::expression);
    write_structure();
    write_list("traits", content_.traits, &RecordWriter::trait);
    write_sight();
    write_list("quantities", content_.quantities, &RecordWriter::quantity);
    write_condition();
    write_maturity();
    write_list("names", content_.names, &RecordWriter::name);
    write_asides();
    write_list("remarks", content_.remarks, &RecordWriter::remark);
    write_list("unmapped", content_.unmapped, &RecordWriter::unmapped);
    json_.number("coverage", std::round(content_.coverage * 1000.0) / 1000.0);
    write_problems();
    if (full_ && options_.tidy) json_.string("tidy", note_.tidy());
    json_.out() += '}';
  }

 private:
  // ---- small members ----

  void offsets(Span span) {
    const Span at = offset_(span);
    json_.out() += '[';
    render::append_number(json_.out(), at.begin);
    json_.out() += ',';
    render::append_number(json_.out(), at.end);
    json_.out() += ']';
  }
  void span(Span at) {
    json_.key("span");
    offsets(at);
  }
  void span_and_text(Span at) {
    span(at);
    json_.string("text", note_.text(at));
  }
  void spans(std::string_view name, std::span<const Span> all) {
    const std::size_t began = json_.open(name, '[');
    for (const Span one : all) {
      json_.next();
      offsets(one);
    }
    json_.close(began, ']');
  }
  void interval(std::string_view name, std::optional<Interval> range) {
    if (!range) return json_.null(name);
    json_.key(name);
    const char digits[] = {'[', static_cast<char>('0' + range->low), ',',
                           static_cast<char>('0' + range->high), ']'};
    json_.out().append(digits, sizeof digits);
  }
  void number(std::string_view name, std::optional<double> value) {
    if (value) json_.number(name, *value); else json_.null(name);
  }
  void string_or_null(std::string_view name, std::string_view text) {
    if (text.empty()) json_.null(name); else json_.string(name, text);
  }
  void cues(Slice slice) {
    if (!full_) return;
    const std::size_t began = json_.open("cues", '[');
    for (const Cue& cue : note_.cues(slice)) {
      const std::size_t one = json_.open_element('{');
      span(cue.span);
      json_.string("rule", cue.rule);
      json_.close(one, '}');
    }
    json_.close(began, ']');
  }

  // Why it was read so, if that was asked for.
  template <class Element>
  void explained(const Element& one) {
    if (explainer_) explanation(explainer_->of(one));
  }
  void explanation(const Explanation& why) {
    const std::size_t began = json_.open("explanation", '{');
    json_.string("text", why.text);
    const std::size_t reasons = json_.open("reasons", '[');
    for (const Reason& reason : why.reasons) {
      const std::size_t one = json_.open_element('{');
      json_.id("what", reason.what);
      string_or_null("rule", reason.rule);
      span(reason.span);
      json_.string("because", reason.because);
      json_.close(one, '}');
    }
    json_.close(reasons, ']');
    json_.close(began, '}');
  }

  template <class Element>
  void write_list(std::string_view name, const std::vector<Element>& all,
                  void (RecordWriter::*write_one)(const Element&)) {
    const std::size_t began = json_.open(name, '[');
    for (const Element& element : all) {
      const std::size_t one = json_.open_element('{');
      (this->*write_one)(element);
      json_.close(one, '}');
    }
    json_.close(began, ']');
  }

  // ---- the head ----

  void write_head() {
    json_.number("schema", schema_version);
    const std::size_t began = json_.open("lexicon", '{');
    json_.string("name", content_.lexicon.name());
    json_.string("version", content_.lexicon.version());
    json_.string("digest", content_.lexicon.digest());
    json_.close(began, '}');
    string_or_null("id", options_.id);
    json_.string("text", content_.text);
    json_.string("language", content_.language);
    json_.id("offsets", name_of_offsets(options_.offsets));
  }

  template <class Value>
  void inferred(std::string_view name, std::optional<Value> value, bool is_inferred) {
    if (!value) return json_.null(name);
    const std::size_t began = json_.open(name, '{');
    json_.id("value", name_of(*value));
    json_.boolean("inferred", is_inferred);
    json_.close(began, '}');
  }

  void write_wine() {
    const Wine& wine = content_.wine;
    const std::size_t began = json_.open("wine", '{');
    inferred("colour", wine.colour, wine.colour_inferred);
    inferred("style", wine.style, wine.style_inferred);
    json_.close(began, '}');
  }

  void statement(const Statement& one) {
    span(one.span);
    json_.id("frame", name_of(one.frame));
    json_.id("phase", name_of(one.phase));
  }

  // ---- aromas, structure, traits ----

  void path(Descriptor descriptor) {
    // From the family down along first parents; the usual short chain without allocation.
    std::array<std::string_view, 16> ids;
    std::size_t count = 0;
    const auto& table = *content_.lexicon.compiled();
    std::uint32_t at = descriptor.index();
    for (;;) {
      const lexicon::DescriptorRecord& record = table.descriptors[at];
      if (record.parents.count == 0) break;   // the root stands above every path
      if (count == ids.size()) return long_path(descriptor);
      ids[count++] = table.string(record.id);
      at = table.range(record.parents)[0];
    }
    const std::size_t began = json_.open("path", '[');
    while (count > 0) {
      json_.next();
      render::append_string(json_.out(), ids[--count]);
    }
    json_.close(began, ']');
  }
  void long_path(Descriptor descriptor) {
    const std::size_t began = json_.open("path", '[');
    for (const Descriptor one : descriptor.path()) {
      json_.next();
      render::append_string(json_.out(), one.id());
    }
    json_.close(began, ']');
  }

  void states(State set) {
    const std::size_t began = json_.open("state", '[');
    for (auto bits = static_cast<unsigned>(set); bits != 0; bits &= bits - 1) {
      json_.next();
      render::append_string(json_.out(),
                            name_of(static_cast<State>(1u << std::countr_zero(bits))));
    }
    json_.close(began, ']');
  }

  void aroma(const Aroma& one) {
    json_.string("descriptor", one.descriptor.id());
    const Descriptor family = one.descriptor.family();
    if (family) json_.string("family", family.id()); else json_.null("family");
    path(one.descriptor);
    span_and_text(one.span);
    if (one.parts.count == 0) json_.null("parts"); else spans("parts", note_.parts(one.parts));
    json_.id("phase", name_of(one.phase));
    states(one.state);
    interval("strength", one.strength);
    json_.id("stance", name_of(one.stance));
    json_.id("when", name_of(one.when));
    json_.boolean("respelled", one.respelled);
    cues(one.cues);
    explained(one);
  }

  void reading(const Reading& one) {
    interval("range", one.range);
    span_and_text(one.span);
    json_.id("stance", name_of(one.stance));
    json_.id("when", name_of(one.when));
    json_.id("phase", name_of(one.phase));
    cues(one.cues);
    explained(one);
  }

  void write_level(std::string_view name, Dimension dimension) {
    const Level& level = content_.structure[dimension];
    if (!level.stated()) return json_.null(name);
    const std::size_t began = json_.open(name, '{');
    interval("range", level.range);
    if (level.range) {
      // The label, written in place: "firm to gripping".
      json_.key("label");
      json_.out() += '"';
      json_.out() += step_label(dimension, level.range->low);
      if (level.range->high != level.range->low) {
        json_.out() += " to ";
        json_.out() += step_label(dimension, level.range->high);
      }
      json_.out() += '"';
    } else {
      json_.null("label");
    }
    json_.boolean("conflict", level.conflict);
    const std::size_t traits = json_.open("traits", '[');
    for (const std::string_view trait : level.traits) {
      json_.next();
      render::append_string(json_.out(), trait);
    }
    json_.close(traits, ']');
    const std::size_t readings = json_.open("readings", '[');
    for (const std::uint32_t index : level.readings) {
      const std::size_t one = json_.open_element('{');
      reading(content_.readings[index]);
      json_.close(one, '}');
    }
    json_.close(readings, ']');
    json_.close(began, '}');
  }

  void write_structure() {
    const std::size_t began = json_.open("structure", '{');
    for (std::size_t d = 0; d < scale_count; ++d) {
      const auto dimension = static_cast<Dimension>(d);
      write_level(name_of(dimension), dimension);
    }
    json_.close(began, '}');
  }

  void trait(const Trait& one) {
    json_.string("trait", one.id);
    json_.id("stance", name_of(one.stance));
    json_.id("phase", name_of(one.phase));
    span_and_text(one.span);
    explained(one);
  }

  // ---- sight ----

  void seen(const Sight& one) {
    if (one.part == SightPart::core || one.part == SightPart::rim) {
      if (one.hue) json_.id("hue", name_of(*one.hue)); else json_.null("hue");
    } else if (one.part == SightPart::depth) {
      interval("range", one.range);
    } else {
      string_or_null("value", one.value);
    }
  }

  void write_part(SightPart part, const Sight* one) {
    if (!one) return json_.null(name_of_part(part));
    const std::size_t began = json_.open(name_of_part(part), '{');
    seen(*one);
    if (part == SightPart::core || part == SightPart::rim) {
      json_.id("stance", name_of(one->stance));
      span_and_text(one->span);
    } else {
      span_and_text(one->span);
      json_.id("stance", name_of(one->stance));
    }
    explained(*one);
    json_.close(began, '}');
  }

  const Sight* chosen(SightPart part) const {
    const Sight* first = nullptr;
    for (const Sight& one : content_.sight) {
      if (one.part != part) continue;
      if (one.stance != Stance::denied) return &one;
      if (!first) first = &one;
    }
    return first;
  }

  void write_rim_width() {
    for (const Quantity& quantity : content_.quantities) {
      if (quantity.kind != QuantityKind::rim_width || quantity.frame != Frame::tasting) continue;
      if (quantity.value) return json_.number("rim_width_mm", *quantity.value);
      if (!quantity.low || !quantity.high) continue;
      const std::size_t began = json_.open("rim_width_mm", '[');
      render::append_number(json_.out(), *quantity.low);
      json_.next();
      render::append_number(json_.out(), *quantity.high);
      return json_.close(began, ']');
    }
    json_.null("rim_width_mm");
  }

  void write_sight() {
    std::array<const Sight*, 7> first{};
    for (std::size_t part = 0; part < first.size(); ++part)
      first[part] = chosen(static_cast<SightPart>(part));
    const std::size_t began = json_.open("sight", '{');
    for (std::size_t part = 0; part < first.size(); ++part) {
      write_part(static_cast<SightPart>(part), first[part]);
      if (static_cast<SightPart>(part) == SightPart::rim) write_rim_width();
    }
    write_more(first);
    json_.close(began, '}');
  }

  // What else is said of a part that has its reading; there only where needed.
  void write_more(const std::array<const Sight*, 7>& first) {
    std::optional<std::size_t> began;
    for (const Sight& one : content_.sight) {
      if (&one == first[static_cast<std::size_t>(one.part)]) continue;
      if (!began) began = json_.open("more", '[');
      const std::size_t element = json_.open_element('{');
      json_.id("part", name_of_part(one.part));
      seen(one);
      json_.id("stance", name_of(one.stance));
      span_and_text(one.span);
      explained(one);
      json_.close(element, '}');
    }
    if (began) json_.close(*began, ']');
  }

  // ---- quantities, condition, maturity ----

  void quantity(const Quantity& one) {
    json_.id("kind", name_of(one.kind));
    number("value", one.value);
    number("low", one.low);
    number("high", one.high);
    string_or_null("unit", one.unit);
    number("out_of", one.out_of);
    string_or_null("of", one.of);
    json_.id("frame", name_of(one.frame));
    span_and_text(one.span);
    explained(one);
  }

  void fault(const FaultReading& one) {
    json_.id("fault", name_of(one.fault));
    json_.id("stance", name_of(one.stance));
    spans("spans", note_.parts(one.spans));
    if (full_) string_or_null("caution", one.caution);
    explained(one);
  }

  void write_condition() {
    const std::size_t began = json_.open("condition", '{');
    json_.id("verdict", name_of(content_.condition.verdict));
    write_list("faults", content_.condition.faults, &RecordWriter::fault);
    json_.close(began, '}');
  }

  void evidence(const Evidence& one) {
    json_.id("points_to", one.points_to == PointsTo::older ? "older" : "younger");
    span(one.span);
    json_.string("because", one.because);
  }

  void write_maturity() {
    const std::size_t began = json_.open("maturity", '{');
    if (const auto& stage = content_.maturity.stage) {
      const std::size_t pair = json_.open("stage", '[');
      for (const Stage one : {stage->first, stage->second}) {
        json_.next();
        render::append_string(json_.out(), name_of(one));
      }
      json_.close(pair, ']');
    } else {
      json_.null("stage");
    }
    write_list("evidence", content_.maturity.evidence, &RecordWriter::evidence);
    json_.close(began, '}');
  }

  // ---- names and the rest ----

  void name(const Name& one) {
    json_.id("kind", name_of(one.kind));
    json_.string("name", one.name);
    span_and_text(one.span);
    explained(one);
  }
  void remark(const Remark& one) {
    json_.string("remark", one.text);
    if (!one.id.empty()) json_.id("id", one.id);
    spans("spans", one.spans);
  }
  void unmapped(const Span& one) {
    span_and_text(one);
    if (explainer_) explanation(explainer_->of_unmapped(one));
  }
  void problem(const TextProblem& one) {
    json_.string("code", one.code);
    span(one.span);
    json_.string("message", one.message);
  }

  void write_problems() {
    const std::size_t began = json_.open("problems", '[');
    const auto write_all = [&](std::span<const TextProblem> all) {
      for (const TextProblem& one : all) {
        const std::size_t element = json_.open_element('{');
        problem(one);
        json_.close(element, '}');
      }
    };
    write_all(content_.problems);
    write_all(options_.more_problems);
    json_.close(began, ']');
  }

  // ---- asides ----

  template <class Element>
  static void gather(std::vector<AsideUse>& uses, AsideUse::Kind kind,
                     const std::vector<Element>& all) {
    for (std::uint32_t i = 0; i < all.size(); ++i) uses.push_back({all[i].span, kind, i});
  }

  std::vector<AsideUse> asides_in_order() const {
    std::vector<AsideUse> uses;
    gather(uses, AsideUse::Kind::aroma, content_.aside_aromas);
    gather(uses, AsideUse::Kind::structure, content_.aside_readings);
    gather(uses, AsideUse::Kind::trait, content_.aside_traits);
    gather(uses, AsideUse::Kind::sight, content_.aside_sight);
    for (std::uint32_t i = 0; i < content_.aside_faults.size(); ++i)
      for (const Span at : note_.parts(content_.aside_faults[i].spans))
        uses.push_back({at, AsideUse::Kind::fault, i});
    std::stable_sort(uses.begin(), uses.end(),
                     [](const AsideUse& a, const AsideUse& b) { return a.span < b.span; });
    return uses;
  }

  // Faults carry no phase of their own: that of the statement they stand in.
  Phase phase_at(Span at) const {
    for (const Statement& one : content_.statements)
      if (one.span.begin <= at.begin && at.begin < one.span.end) return one.phase;
    return Phase::overall;
  }

  void aside_tail(const auto& one, Phase phase, Span at) {
    json_.id("stance", name_of(one.stance));
    json_.id("when", name_of(one.when));
    json_.id("phase", name_of(phase));
    span_and_text(at);
    cues(one.cues);
    explained(one);
  }
  void aside_head(Frame frame, std::string_view kind) {
    json_.id("frame", name_of(frame));
    json_.id("kind", kind);
  }

  void aside(const Aroma& one) {
    aside_head(one.frame, "aroma");
    json_.string("descriptor", one.descriptor.id());
    aside_tail(one, one.phase, one.span);
  }
  void aside(const Reading& one) {
    aside_head(one.frame, "structure");
    json_.id("dimension", name_of(one.dimension));
    interval("range", one.range);
    aside_tail(one, one.phase, one.span);
  }
  void aside(const Trait& one) {
    aside_head(one.frame, "trait");
    json_.string("trait", one.id);
    aside_tail(one, one.phase, one.span);
  }
  void aside(const Sight& one) {
    aside_head(one.frame, "sight");
    json_.id("part", name_of_part(one.part));
    seen(one);
    aside_tail(one, Phase::sight, one.span);
  }
  void aside(const FaultReading& one, Span at) {
    aside_head(one.frame, "fault");
    json_.id("fault", name_of(one.fault));
    aside_tail(one, phase_at(at), at);
  }

  void write_asides() {
    const std::size_t began = json_.open("asides", '[');
    for (const AsideUse& use : asides_in_order()) {
      const std::size_t one = json_.open_element('{');
      switch (use.kind) {
        case AsideUse::Kind::aroma: aside(content_.aside_aromas[use.index]); break;
        case AsideUse::Kind::structure: aside(content_.aside_readings[use.index]); break;
        case AsideUse::Kind::trait: aside(content_.aside_traits[use.index]); break;
        case AsideUse::Kind::sight: aside(content_.aside_sight[use.index]); break;
        case AsideUse::Kind::fault: aside(content_.aside_faults[use.index], use.span); break;
      }
      json_.close(one, '}');
    }
    json_.close(began, ']');
  }

  const Note& note_;
  const Note::Content& content_;
  const JsonOptions& options_;
  bool full_;
  render::JsonWriter json_;
  text::OffsetTable offset_;
  std::optional<explain::Explainer> explainer_;
};

}  // namespace

void Note::append_json(std::string& out, const JsonOptions& options) const {
  RecordWriter(*this, options, out).write();
}

std::string Note::to_json(const JsonOptions& options) const {
  std::string out;
  out.reserve(content_->text.size() * 4 + 1024);   // most records fit at once
  append_json(out, options);
  return out;
}

}  // namespace v1
}  // namespace racking
