#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <string>

#include "judge/bands.hpp"
#include "judge/judge.hpp"

// Remarks on measures. Each band says whether a note is told of it, and each remark says what
// source it is by, of what date, and that local rules come first.

namespace racking::judge {

using lexicon::BandRecord;
using lexicon::CompiledLexicon;

namespace {

constexpr std::string_view label_rule = "other.label";   // cues that quote a label begin so

// At most two decimals, without idle noughts.
std::string decimal(double value) {
  std::array<char, 40> digits;
  const auto rounded = std::round(value * 100.0) / 100.0;
  const auto [end, error] = std::to_chars(digits.data(), digits.data() + digits.size(), rounded);
  return error == std::errc{} ? std::string(digits.data(), end) : std::string();
}

bool begins(std::string_view text, std::string_view with) {
  return text.substr(0, with.size()) == with;
}

class MeasureRemarks {
 public:
  MeasureRemarks(const CompiledLexicon& lexicon, const TermIndex& terms,
                 const context::Workspace& work, Note::Content& note)
      : lexicon_(lexicon), terms_(terms), work_(work), note_(note) {}

  void raise() {
    remark_terms();
    for (const Quantity& quantity : note_.quantities)
      if (quantity.value && is_of_this_wine(quantity)) remark_limits(quantity);
  }

 private:
  // ---- a term of sweetness against the sugar ----

  void remark_terms() {
    const Quantity* sugar = nullptr;
    const Quantity* acidity = nullptr;
    for (const Quantity& one : note_.quantities) {
      if (!is_of_this_wine(one) || !one.value || !is_sane(*one.value)) continue;
      if (one.kind == QuantityKind::sugar && !sugar) sugar = &one;
      if (one.kind == QuantityKind::total_acidity && !acidity) acidity = &one;
    }
    if (!sugar) return;
    Sugar measured{tenths(*sugar->value), {}, {}};
    if (acidity) measured.acidity = tenths(*acidity->value);
    for (const Trait& trait : note_.traits)
      if (trait.stance == Stance::stated && trait.when == When::now)
        check_term(trait.span, *sugar, measured);
    for (const Trait& trait : note_.aside_traits)
      if (trait.stance == Stance::stated && is_on_label(trait.span))
        check_term(trait.span, *sugar, measured);
    // "Labelled medium dry": words of taste, but quoted.
    for (const Reading& reading : note_.aside_readings)
      if (reading.dimension == Dimension::sweetness && reading.stance == Stance::stated &&
          is_on_label(reading.span))
        check_term(reading.span, *sugar, measured);
  }

  static bool is_sane(double value) { return value >= 0.0 && value <= 10'000.0; }

  void check_term(Span span, const Quantity& sugar, const Sugar& measured) {
    const std::string_view words = std::string_view(note_.text).substr(span.begin, span.size());
    const BandRecord* broken = nullptr;
    for (const std::uint32_t index : terms_[folded_term(words)]) {
      const BandRecord& band = lexicon_.bands[index];
      if (note_.wine.style && !is_of(band, *note_.wine.style)) continue;
      // Where the style is not said, any style that bears the term with such a sugar will do.
      if (fits_with_tolerance(lexicon_, band, measured)) return;
      if (broken == nullptr) broken = &band;
    }
    if (broken == nullptr || is_raised(span)) return;
    std::string text = "Says " + lowered(words) + ", yet " + decimal(*sugar.value) + " g/L of sugar" +
                       (measured.acidity && broken->acid_most != lexicon::no_bound
                            ? " and " + decimal(static_cast<double>(*measured.acidity) / 1000.0) +
                                  " g/L of acidity"
                            : std::string()) +
                       ": outside the term, with its tolerance of " +
                       decimal(broken->tolerance / 1000.0) + " g/L, by " + source(*broken);
    note_.remarks.push_back({std::move(text), {span, sugar.span}});
  }

  // A word said twice is remarked on once.
  bool is_raised(Span span) const {
    const std::string_view all = note_.text;
    const std::string words = lowered(all.substr(span.begin, span.size()));
    return std::any_of(note_.remarks.begin(), note_.remarks.end(), [&](const Remark& remark) {
      return begins(remark.text, "Says " + words + ", yet ");
    });
  }

  // ---- limits ----

  void remark_limits(const Quantity& quantity) {
    for (const std::uint32_t index :
         broken_limits(lexicon_, quantity.kind, *quantity.value, note_.wine.colour,
                       note_.wine.style, true)) {
      const BandRecord& band = lexicon_.bands[index];
      std::string text = std::string(name_of(quantity.kind)) + " of " + decimal(*quantity.value) +
                         unit_of(quantity) + ": " + limit(band, quantity) + " for " +
                         std::string(lexicon_.string(band.name)) + " by " + source(band);
      text.front() = static_cast<char>(text.front() >= 'a' && text.front() <= 'z'
                                           ? text.front() - 'a' + 'A' : text.front());
      note_.remarks.push_back({std::move(text), {quantity.span}});
    }
  }

  std::string limit(const BandRecord& band, const Quantity& quantity) const {
    const bool over = quantity_is_over(band, quantity);
    const std::int32_t bound = over ? (band.most != lexicon::no_bound ? band.most : band.below)
                                    : std::max(band.least, band.above);
    const std::string_view unit = lexicon_.string(band.unit);
    std::string out = over ? "above the limit of " : "below the least of ";
    out += decimal(bound / 1000.0);
    if (!unit.empty()) (out += ' ') += unit;
    if (unit != quantity.unit)
      if (const auto* record = find_unit(lexicon_, quantity.kind, unit))
        out += " (" + decimal(bound / 1000.0 * record->factor + record->offset) + unit_of(quantity) + ")";
    return out;
  }

  bool quantity_is_over(const BandRecord& band, const Quantity& quantity) const {
    const double value = in_unit_of(lexicon_, band, *quantity.value) * 1000.0;
    return (band.most != lexicon::no_bound && value > band.most) ||
           (band.below != lexicon::no_bound && value >= band.below);
  }

  // " g/L as acetic acid": both acidities are read in one acid, and a remark says which.
  static std::string unit_of(const Quantity& quantity) {
    std::string out;
    if (!quantity.unit.empty()) (out += ' ') += quantity.unit;
    if (quantity.kind == QuantityKind::volatile_acidity) out += " as acetic acid";
    if (quantity.kind == QuantityKind::total_acidity) out += " as tartaric acid";
    return out;
  }

  std::string source(const BandRecord& band) const {
    std::string out(lexicon_.string(band.source));
    return (out += " (as of ") + std::string(lexicon_.string(band.as_of)) +
           "). Exceptions exist, and local rules come first.";
  }

  // ---- whose words ----

  std::uint32_t token_at(Span span) const {
    const auto& tokens = work_.text.tokens;
    const auto at = std::partition_point(tokens.begin(), tokens.end(), [&](const text::Token& token) {
      return token.span.end <= span.begin;
    });
    return static_cast<std::uint32_t>(at - tokens.begin());
  }

  bool is_on_label(Span span) const {
    const auto& reach = work_.reach[static_cast<std::size_t>(context::Attribute::frame)];
    const std::uint32_t token = token_at(span);
    if (token >= reach.size() || reach[token] == 0) return false;
    const auto& cue = lexicon_.cues[work_.cues[reach[token] - 1].record];
    return begins(lexicon_.string(cue.id), label_rule);
  }

  // Another wine's figures are not this one's; a label's and a tech sheet's making are.
  bool is_of_this_wine(const Quantity& quantity) const {
    switch (quantity.frame) {
      case Frame::tasting: case Frame::making: return true;
      case Frame::other: return is_on_label(quantity.span);
      default: return false;
    }
  }

  static std::string lowered(std::string_view words) {
    std::string out(words);
    for (char& c : out)
      if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return out;
  }

  const CompiledLexicon& lexicon_;
  const TermIndex& terms_;
  const context::Workspace& work_;
  Note::Content& note_;
};

}  // namespace

void remark_measures(const CompiledLexicon& lexicon, const TermIndex& terms,
                     const context::Workspace& work,
                     Note::Content& note) {
  MeasureRemarks(lexicon, terms, work, note).raise();
}

}  // namespace racking::judge
