#include "racking/note.hpp"

#include <utility>
#include <vector>

#include "explain/explainer.hpp"
#include "lexicon/build.hpp"
#include "lexicon/source.hpp"
#include "note_content.hpp"
#include "racking/error.hpp"

namespace racking {
inline namespace v1 {

namespace {

// A note that nobody read has a lexicon too: one without words, shared by all such notes.
const Lexicon& wordless() {
  static const Lexicon lexicon = [] {
    racking::lexicon::Source source;
    source.name = "none";
    std::vector<Problem> problems;
    const std::string blob = racking::lexicon::build(source, nullptr, problems);
    if (!problems.empty()) throw Error(ErrorCode::lexicon_corrupt, std::move(problems));
    return Lexicon::from_blob(blob);
  }();
  return lexicon;
}

template <class Element>
std::span<const Element> part_of(const std::vector<Element>& pool, Slice slice) noexcept {
  if (slice.begin > pool.size() || slice.count > pool.size() - slice.begin) return {};
  return std::span(pool).subspan(slice.begin, slice.count);
}

}  // namespace

Note::Note() : content_(std::make_unique<Content>(wordless())) {}
Note::Note(std::unique_ptr<Content> content) noexcept : content_(std::move(content)) {}
Note::Note(const Note& other)
    : content_(other.content_ ? std::make_unique<Content>(*other.content_) : nullptr) {}
Note::Note(Note&&) noexcept = default;
Note& Note::operator=(const Note& other) {
  if (this != &other) *this = Note(other);
  return *this;
}
Note& Note::operator=(Note&&) noexcept = default;
Note::~Note() = default;

const std::string& Note::text() const noexcept { return content_->text; }
std::string_view Note::text(Span span) const noexcept {
  const std::string_view all = content_->text;
  if (span.end < span.begin || span.end > all.size()) return {};
  return all.substr(span.begin, span.size());
}
std::string_view Note::language() const noexcept { return content_->language; }
const Wine& Note::wine() const noexcept { return content_->wine; }
std::span<const Statement> Note::statements() const noexcept { return content_->statements; }
std::span<const Aroma> Note::aromas() const noexcept { return content_->aromas; }
std::span<const Aroma> Note::aside_aromas() const noexcept { return content_->aside_aromas; }
std::span<const Reading> Note::readings() const noexcept { return content_->readings; }
std::span<const Reading> Note::aside_readings() const noexcept { return content_->aside_readings; }
const Structure& Note::structure() const noexcept { return content_->structure; }
std::span<const Trait> Note::traits() const noexcept { return content_->traits; }
std::span<const Trait> Note::aside_traits() const noexcept { return content_->aside_traits; }
std::span<const Sight> Note::sight() const noexcept { return content_->sight; }
std::span<const Sight> Note::aside_sight() const noexcept { return content_->aside_sight; }
std::span<const Quantity> Note::quantities() const noexcept { return content_->quantities; }
const Condition& Note::condition() const noexcept { return content_->condition; }
std::span<const FaultReading> Note::aside_faults() const noexcept { return content_->aside_faults; }
const Maturity& Note::maturity() const noexcept { return content_->maturity; }
std::span<const Name> Note::names() const noexcept { return content_->names; }
std::span<const Remark> Note::remarks() const noexcept { return content_->remarks; }
std::span<const Span> Note::unmapped() const noexcept { return content_->unmapped; }
double Note::coverage() const noexcept { return content_->coverage; }
std::span<const TextProblem> Note::problems() const noexcept { return content_->problems; }
const Lexicon& Note::lexicon() const noexcept { return content_->lexicon; }

std::span<const Span> Note::parts(Slice slice) const noexcept {
  return part_of(content_->parts, slice);
}
std::span<const Cue> Note::cues(Slice slice) const noexcept {
  return part_of(content_->cues, slice);
}

Explanation Note::explain(const Aroma& one) const { return racking::explain::Explainer(*content_).of(one); }
Explanation Note::explain(const Reading& one) const { return racking::explain::Explainer(*content_).of(one); }
Explanation Note::explain(const Trait& one) const { return racking::explain::Explainer(*content_).of(one); }
Explanation Note::explain(const Sight& one) const { return racking::explain::Explainer(*content_).of(one); }
Explanation Note::explain(const Quantity& one) const {
  return racking::explain::Explainer(*content_).of(one);
}
Explanation Note::explain(const FaultReading& one) const {
  return racking::explain::Explainer(*content_).of(one);
}
Explanation Note::explain(const Name& one) const { return racking::explain::Explainer(*content_).of(one); }
Explanation Note::explain_unmapped(Span span) const {
  return racking::explain::Explainer(*content_).of_unmapped(span);
}

std::string Note::label(Dimension dimension, Interval range) {
  std::string label(step_label(dimension, range.low));
  if (range.high == range.low) return label;
  label += " to ";
  label += step_label(dimension, range.high);
  return label;
}

const Level& Structure::operator[](Dimension dimension) const noexcept {
  switch (dimension) {
    case Dimension::acidity: return acidity;
    case Dimension::body: return body;
    case Dimension::tannin: return tannin;
    case Dimension::sweetness: return sweetness;
    case Dimension::alcohol: return alcohol;
    case Dimension::sparkle: return sparkle;
    case Dimension::finish: return finish;
    case Dimension::expression: break;
  }
  return expression;
}
Level& Structure::operator[](Dimension dimension) noexcept {
  return const_cast<Level&>(std::as_const(*this)[dimension]);
}

}  // namespace v1
}  // namespace racking
