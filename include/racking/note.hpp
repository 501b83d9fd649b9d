// What a note says.
#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "racking/explanation.hpp"
#include "racking/export.hpp"
#include "racking/lexicon.hpp"
#include "racking/short_list.hpp"
#include "racking/span.hpp"
#include "racking/vocabulary.hpp"

namespace racking {
inline namespace v1 {

/// Words that decided something about a reading, and the rule that did.
struct Cue {
  Span span;
  std::string_view rule;  ///< lives as long as the note's lexicon
};

/// A slice of one of the note's pools; see `Note::parts`, `Note::cues`.
struct Slice {
  std::uint32_t begin = 0;
  std::uint32_t count = 0;
};

/// A stretch of the text of one frame and phase. Statements tile the text.
struct Statement {
  Span span;
  Frame frame = Frame::tasting;
  Phase phase = Phase::overall;
};

struct Aroma {
  Descriptor descriptor;
  Span span;
  Slice parts;  ///< empty unless other words stand inside the span
  Slice cues;
  std::optional<Interval> strength;
  State state = State::none;
  Phase phase = Phase::overall;
  Stance stance = Stance::stated;
  When when = When::now;
  Frame frame = Frame::tasting;
  bool respelled = false;
};

/// One thing said of one dimension.
struct Reading {
  Span span;
  Slice cues;
  std::optional<Interval> range;  ///< none where a denial leaves no single interval
  Dimension dimension = Dimension::acidity;
  Phase phase = Phase::overall;
  Stance stance = Stance::stated;
  When when = When::now;
  Frame frame = Frame::tasting;
};

/// What a note says of one dimension, combined. `stated()` is false if nothing.
struct Level {
  std::optional<Interval> range;
  bool conflict = false;
  ShortList<std::uint32_t> readings;        ///< indices into `Note::readings`
  ShortList<std::string_view> traits;       ///< ids, in order, each once

  bool stated() const noexcept { return !readings.empty() || !traits.empty(); }
};

struct Structure {
  Level acidity, body, tannin, sweetness, alcohol, sparkle, finish;
  Level expression;  ///< of the nose: the same shape, not one of the seven scales

  RACKING_EXPORT const Level& operator[](Dimension) const noexcept;
  RACKING_EXPORT Level& operator[](Dimension) noexcept;
};

/// A word for the whole, or for the texture: balanced, complex, silky.
struct Trait {
  std::string_view id;
  Span span;
  Slice cues;
  /// The dimension it speaks of, if one.
  std::optional<Dimension> dimension;
  Phase phase = Phase::overall;
  Stance stance = Stance::stated;
  When when = When::now;
  Frame frame = Frame::tasting;
};

enum class SightPart : std::uint8_t { core, rim, depth, clarity, deposit, bubbles, tears };

struct Sight {
  SightPart part = SightPart::core;
  Span span;
  Slice cues;
  std::optional<Hue> hue;          ///< for core and rim
  std::optional<Interval> range;   ///< for depth: watery 1 … opaque 5
  std::string_view value;          ///< for the rest, e.g. "hazy"
  Stance stance = Stance::stated;
  When when = When::now;
  Frame frame = Frame::tasting;
};

struct Quantity {
  QuantityKind kind = QuantityKind::alcohol;
  Frame frame = Frame::tasting;
  Span span;
  std::optional<double> value;     ///< a single value, else low and high
  std::optional<double> low, high;
  std::optional<double> out_of;    ///< scores
  std::string_view unit;           ///< "% vol", "g/L", … ; empty where the note has none
  std::string of;                  ///< what it is a quantity of, where said (a grape's share)
};

struct FaultReading {
  Fault fault = Fault::other;
  Stance stance = Stance::stated;
  When when = When::now;
  Frame frame = Frame::tasting;
  Slice spans;                     ///< into the span pool: see `Note::parts`
  Slice cues;
  std::string_view caution;
};

struct Condition {
  Verdict verdict = Verdict::not_stated;
  std::vector<FaultReading> faults;
};

enum class PointsTo : std::uint8_t { younger, older };

struct Evidence {
  PointsTo points_to = PointsTo::older;
  Span span;
  std::string_view because;
};

struct Maturity {
  /// One stage or two neighbours; none when nothing speaks.
  std::optional<std::pair<Stage, Stage>> stage;
  std::vector<Evidence> evidence;
};

struct Name {
  NameKind kind = NameKind::grape;
  Span span;
  std::string_view name;
};

/// What a careful colleague would raise: a sentence for a person, never a refusal.
struct Remark {
  std::string text;
  std::vector<Span> spans;   ///< the words that it rests on, in order
  /// Which remark it is, to count or to silence it by ("tannic-white"); static storage.
  /// DEVELOPERS.md lists them all.
  std::string_view id{};
};

/// Something odd about the input, never a refusal. Its code is `ill-formed-utf-8`; `other-language`
/// (only names and words that English notes share are read); `no-tasting-note` (all is set aside,
/// and the coverage is 0; the message says what the text seems to speak of); `several-wines`, one
/// for each wine, whose span is that wine's part; or one of a caller's.
struct TextProblem {
  std::string code;
  Span span;
  std::string message;
};

struct Wine {
  std::optional<WineColour> colour;
  bool colour_inferred = false;
  std::optional<WineStyle> style;
  bool style_inferred = false;
};

/// How a record is written.
struct JsonOptions {
  enum class Depth : std::uint8_t { full, plain };
  Depth depth = Depth::full;
  Offsets offsets = Offsets::codepoint;
  std::string_view id;            ///< the record's id; empty: written as null
  bool tidy = true;               ///< full only
  /// Problems that the caller found before reading (decoding, left-over mark-up);
  /// written after the note's own. Spans are of the note's text.
  std::span<const TextProblem> more_problems;
  /// Gives each reading a member `explanation`: see `Note::explain`. Reads the text once more.
  bool explain = false;
};

/// One note, read. A value that owns its text and shares its lexicon; every
/// view into it lives as long as it or a copy does. Reading it from many
/// threads is safe.
class RACKING_EXPORT Note {
 public:
  Note();
  Note(const Note&);
  Note(Note&&) noexcept;
  Note& operator=(const Note&);
  Note& operator=(Note&&) noexcept;
  ~Note();

  const std::string& text() const noexcept;
  /// The words of a span. Empty if the span is outside the text.
  std::string_view text(Span) const noexcept;
  std::string_view language() const noexcept;  ///< "en", "fr", "it", "es", "de", "pt"; "und" if two of those are as likely
  const Wine& wine() const noexcept;
  std::span<const Statement> statements() const noexcept;
  /// Aromas of this wine, now or with air, in order.
  std::span<const Aroma> aromas() const noexcept;
  /// Everything else that the lexicon knows: other frames and times.
  std::span<const Aroma> aside_aromas() const noexcept;
  /// Structure readings of this wine, expression included, in order.
  std::span<const Reading> readings() const noexcept;
  std::span<const Reading> aside_readings() const noexcept;
  const Structure& structure() const noexcept;
  std::span<const Trait> traits() const noexcept;
  std::span<const Trait> aside_traits() const noexcept;
  std::span<const Sight> sight() const noexcept;
  std::span<const Sight> aside_sight() const noexcept;
  std::span<const Quantity> quantities() const noexcept;
  const Condition& condition() const noexcept;
  std::span<const FaultReading> aside_faults() const noexcept;
  const Maturity& maturity() const noexcept;
  std::span<const Name> names() const noexcept;
  std::span<const Remark> remarks() const noexcept;
  std::span<const Span> unmapped() const noexcept;
  double coverage() const noexcept;
  std::span<const TextProblem> problems() const noexcept;

  std::span<const Span> parts(Slice) const noexcept;
  std::span<const Cue> cues(Slice) const noexcept;
  /// "firm to gripping" for {4, 5} of tannin.
  static std::string label(Dimension, Interval);

  /// Why a reading was read so, in plain words, from the decisions themselves: the text is read
  /// once more with each of them recorded. Takes a reading of this note or a copy of one; throws
  /// `Error` (bad_argument) for any other. Cost: one reading of the text; the first call for a
  /// reader also walks its lexicon, some milliseconds. Safe from any thread.
  Explanation explain(const Aroma&) const;
  Explanation explain(const Reading&) const;
  Explanation explain(const Trait&) const;
  Explanation explain(const Sight&) const;
  Explanation explain(const Quantity&) const;
  Explanation explain(const FaultReading&) const;
  Explanation explain(const Name&) const;
  /// The same for a span of `unmapped`: why its words say nothing to the lexicon.
  Explanation explain_unmapped(Span) const;

  /// The record, as the schema has it. Cost: linear in the readings.
  std::string to_json(const JsonOptions& = {}) const;
  /// Appends the record; no allocation if `out` has room.
  void append_json(std::string& out, const JsonOptions&) const;
  /// The cleaned note: short, readable, in our own order and words.
  std::string tidy() const;

  const Lexicon& lexicon() const noexcept;

  struct Content;
  explicit Note(std::unique_ptr<Content>) noexcept;
  const Content& content() const noexcept { return *content_; }

 private:
  std::unique_ptr<Content> content_;
};

}  // namespace v1
}  // namespace racking
