#include "judge/maturity.hpp"

#include <algorithm>
#include <bit>
#include <cstdlib>
#include <optional>
#include <string>

#include "context/scopes.hpp"
#include "judge/judge.hpp"

namespace racking::judge {

using lexicon::AgeCue;
using lexicon::CompiledLexicon;
using lexicon::EvidenceRecord;
using lexicon::SenseKind;

namespace {

int signed_weight(const EvidenceRecord& record) {
  return record.points_to == 0 ? -int{record.weight} : int{record.weight};
}

constexpr std::uint32_t bit(AgeCue cue) { return 1u << static_cast<unsigned>(cue); }

class Maturing {
 public:
  Maturing(const CompiledLexicon& lexicon, const AgeIndex& index, const context::Workspace& work,
           Note::Content& note, int tasting_year)
      : lexicon_(lexicon), index_(index), work_(work), note_(note), tasting_year_(tasting_year) {}

  void judge() {
    weigh_hues();
    weigh_looks();
    weigh_rim_width();
    weigh_aromas();
    weigh_tannin();
    weigh_words();
    auto& evidence = note_.maturity.evidence;
    if (!speaks_) evidence.clear();
    if (evidence.empty()) return;
    std::stable_sort(evidence.begin(), evidence.end(),
                     [](const Evidence& a, const Evidence& b) { return a.span < b.span; });
    note_.maturity.stage = stage();
    compare_with_age();
  }

 private:
  // ---- the rule ----

  bool is_of_wine(const EvidenceRecord& record) const {
    return record.wine == 0 ||
           (note_.wine.colour && (record.wine >> static_cast<unsigned>(*note_.wine.colour) & 1u));
  }

  // A style that has this from the start, and not with age.
  bool is_taken_away(const EvidenceRecord& record) const {
    if (record.unless_sweet != 0 && is_sweet()) return true;
    const auto unless = lexicon_.range(record.unless);
    for (std::size_t i = 0; i + 1 < unless.size(); i += 2) {
      const std::string_view style = lexicon_.string({unless[i], unless[i + 1]});
      if (std::any_of(note_.names.begin(), note_.names.end(),
                      [&](const Name& name) { return name.name == style; }) ||
          std::any_of(note_.traits.begin(), note_.traits.end(), [&](const Trait& trait) {
            return trait.id == style && trait.stance == Stance::stated;
          }))
        return true;
    }
    return false;
  }

  bool is_sweet() const {
    constexpr double sweet = 45.0;   // g/L: still wine called sweet, Reg. (EU) 2019/33
    const auto& level = note_.structure.sweetness.range;
    return (level && level->low >= 4) ||
           std::any_of(note_.quantities.begin(), note_.quantities.end(), [](const Quantity& one) {
             return one.kind == QuantityKind::sugar && one.frame == Frame::tasting && one.value &&
                    *one.value >= sweet;
           });
  }

  bool browned_by_fault() const {
    return std::any_of(note_.condition.faults.begin(), note_.condition.faults.end(),
                       [](const FaultReading& one) {
                         return one.stance != Stance::denied &&
                                (one.fault == Fault::oxidation || one.fault == Fault::heat_damage);
                       });
  }

  bool counts(const EvidenceRecord& record) const {
    return record.weight != 0 && is_of_wine(record) && !is_taken_away(record);
  }

  void list(const EvidenceRecord& record, Span span) {
    note_.maturity.evidence.push_back({record.points_to == 0 ? PointsTo::younger : PointsTo::older,
                                       span, lexicon_.string(record.because)});
    if (record.supports == 0) speaks_ = true;
    if (record.points_to != 0 && record.cue != static_cast<std::uint8_t>(AgeCue::gradation))
      older_cues_ |= 1u << record.cue;
  }

  void add(const EvidenceRecord& record, Span span, bool hedged) {
    list(record, span);
    const int weight = signed_weight(record);
    balance_ += hedged ? std::clamp(weight, -1, 1) : weight;
  }

  std::pair<Stage, Stage> stage() const {
    if (balance_ <= -2) return {Stage::early, Stage::early};
    if (balance_ <= 1) return {Stage::early, Stage::mid_life};
    const int kinds = std::popcount(older_cues_);
    if (balance_ <= 3 || kinds < 2) return {Stage::mid_life, Stage::mid_life};
    if (balance_ <= 6 || kinds < 3) return {Stage::mid_life, Stage::late};
    return {Stage::late, Stage::late};
  }

  // ---- what is seen ----

  struct Brownest {
    std::optional<int> weight;           // of the brownest hue
    const Sight* stated = nullptr;       // a hue that is stated, brownest first
    int rank = 0;                        // its weight at the core: where it stands in the order
  };

  Brownest weigh_place(WineColour wine, SightPart part) {
    Brownest found;
    const bool doubtful = browned_by_fault();
    for (const Sight& sight : note_.sight) {
      if (sight.part != part || !sight.hue || sight.stance == Stance::denied) continue;
      const EvidenceRecord* record = index_.hue(wine, part == SightPart::rim, *sight.hue);
      if (record && counts(*record)) {
        list(*record, sight.span);
        int weight = signed_weight(*record);
        if (sight.stance == Stance::hedged) weight = std::clamp(weight, -1, 1);
        if (doubtful) weight = std::min(weight, 1);
        found.weight = std::max(weight, found.weight.value_or(weight));
      }
      const EvidenceRecord* at_core = index_.hue(wine, false, *sight.hue);
      if (!at_core || sight.stance != Stance::stated) continue;
      const int rank = signed_weight(*at_core);
      if (!found.stated || rank > found.rank) found.stated = &sight, found.rank = rank;
    }
    balance_ += found.weight.value_or(0);
    return found;
  }

  void weigh_hues() {
    if (!note_.wine.colour || note_.sight.empty()) return;
    const Brownest core = weigh_place(*note_.wine.colour, SightPart::core);
    const Brownest rim = weigh_place(*note_.wine.colour, SightPart::rim);
    if (!core.stated || !rim.stated || rim.rank <= core.rank) return;
    for (const EvidenceRecord& record : index_.of(AgeCue::gradation))
      if (counts(record)) add(record, rim.stated->span, false);
  }

  void weigh_looks() {
    std::uint32_t seen = 0;
    for (const Sight& sight : note_.sight) {
      const bool depth = sight.part == SightPart::depth;
      if (sight.stance == Stance::denied || !(depth ? sight.range.has_value()
                                                    : sight.part == SightPart::deposit))
        continue;
      const AgeCue cue = depth ? AgeCue::depth : AgeCue::deposit;
      if (seen & bit(cue)) continue;
      for (const EvidenceRecord& record : index_.of(cue)) {
        const bool meets = depth ? sight.range->low >= record.low && sight.range->high <= record.high
                                 : has_value(record, sight.value);
        if (!meets || !counts(record)) continue;
        add(record, sight.span, sight.stance == Stance::hedged);
        seen |= bit(cue);
        break;
      }
    }
  }

  bool has_value(const EvidenceRecord& record, std::string_view value) const {
    const auto values = lexicon_.range(record.values);
    for (std::size_t i = 0; i + 1 < values.size(); i += 2)
      if (lexicon_.string({values[i], values[i + 1]}) == value) return true;
    return false;
  }

  void weigh_rim_width() {
    for (const Quantity& quantity : note_.quantities) {
      if (quantity.kind != QuantityKind::rim_width || quantity.frame != Frame::tasting ||
          !quantity.value)
        continue;
      for (const EvidenceRecord& record : index_.of(AgeCue::rim_width))
        if (*quantity.value * 10.0 >= record.least && *quantity.value * 10.0 <= record.most &&
            counts(record))
          return add(record, quantity.span, false);
    }
    for (const std::uint32_t index : work_.lists.decided) {
      const match::Mention& mention = work_.mentions[index];
      if (!mention.is(SenseKind::sight) || work_.frames[mention.first] != Frame::tasting) continue;
      const lexicon::SightRecord& sight = lexicon_.sights[mention.index];
      if (sight.kind != static_cast<std::uint8_t>(SightKind::rim)) continue;
      for (const EvidenceRecord& record : index_.of(AgeCue::rim_width))
        if (has_value(record, lexicon_.string(sight.value)) && counts(record) &&
            !is_denied(mention.first))
          return add(record, work_.span(mention.first, mention.last), false);
    }
  }

  bool is_denied(std::uint32_t token) const {
    const lexicon::CueRecord* cue =
        context::cue_over(lexicon_, work_, context::Attribute::stance, token);
    return cue && cue->stance == static_cast<std::uint8_t>(Stance::denied);
  }

  // ---- what is smelled and tasted ----

  static bool is_fruit(Descriptor descriptor) {
    constexpr std::array fruit = {"citrus-grove", "orchard", "hedgerow", "hothouse", "fruit-store"};
    const std::string_view family = descriptor.family() ? descriptor.family().id() : "";
    return std::find(fruit.begin(), fruit.end(), family) != fruit.end();
  }

  // What a fault is suspected by tells of the fault.
  bool is_of_fault(Span span) const {
    for (const FaultReading& fault : note_.condition.faults) {
      if (fault.stance == Stance::denied) continue;
      for (std::uint32_t i = 0; i < fault.spans.count; ++i)
        if (note_.parts[fault.spans.begin + i] == span) return true;
    }
    return false;
  }

  void weigh_aromas() {
    if (note_.aromas.empty()) return;
    for (std::size_t i = 0; i < index_.of(AgeCue::aroma).size(); ++i) weigh_ageing(i);
    for (std::size_t i = 0; i < index_.of(AgeCue::fruit).size(); ++i) weigh_fruit(i);
  }

  // An aroma speaks of age only if ageing is all that it comes from: oak is not age.
  void weigh_ageing(std::size_t at) {
    const EvidenceRecord& record = index_.of(AgeCue::aroma)[at];
    const std::uint16_t origins = index_.mask(AgeCue::aroma, at);
    std::vector<std::uint32_t> seen;
    bool stated = false;
    for (const Aroma& aroma : note_.aromas) {
      const std::uint32_t descriptor = aroma.descriptor.index();
      if (lexicon_.descriptors[descriptor].origin != origins || aroma.stance == Stance::denied ||
          is_of_fault(aroma.span) || std::find(seen.begin(), seen.end(), descriptor) != seen.end())
        continue;
      if (seen.empty() && !counts(record)) return;
      seen.push_back(descriptor);
      list(record, aroma.span);
      stated = stated || aroma.stance == Stance::stated;
    }
    if (seen.empty()) return;
    const int weight = std::min<int>(most_aromas, (stated ? record.weight : 1) +
                                                      static_cast<int>(seen.size()) - 1);
    balance_ += record.points_to == 0 ? -weight : weight;
  }

  void weigh_fruit(std::size_t at) {
    const EvidenceRecord& record = index_.of(AgeCue::fruit)[at];
    const auto states = static_cast<State>(index_.mask(AgeCue::fruit, at));
    for (const Aroma& aroma : note_.aromas) {
      if (!has(aroma.state, states) || aroma.stance == Stance::denied ||
          !is_fruit(aroma.descriptor) || is_of_fault(aroma.span))
        continue;
      if (counts(record)) add(record, aroma.span, aroma.stance == Stance::hedged);
      return;
    }
  }

  void weigh_tannin() {
    const Level& tannin = note_.structure.tannin;
    if (!tannin.range || tannin.conflict) return;
    for (const EvidenceRecord& record : index_.of(AgeCue::tannin))
      if (tannin.range->low >= record.low && tannin.range->high <= record.high && counts(record))
        return add(record, note_.readings[*tannin.readings.begin()].span, false);
  }

  void weigh_words() {
    if (note_.traits.empty()) return;
    for (const EvidenceRecord& record : index_.of(AgeCue::words))
      for (const Trait& trait : note_.traits) {
        if (trait.dimension || trait.stance == Stance::denied || !has_value(record, trait.id))
          continue;
        if (counts(record)) add(record, trait.span, trait.stance == Stance::hedged);
        break;
      }
  }

  // ---- a stated age ----

  struct Age {
    double years;
    Span span;
    std::string words;                   // "3 years"
  };

  static std::string in_years(double years) {
    const int whole = static_cast<int>(years);
    return whole == 1 ? "1 year" : std::to_string(whole) + " years";
  }

  // What the note states; a vintage only where it is told when the wine was tasted, and only
  // one, for of two vintages one is another wine's.
  std::optional<Age> stated_age() const {
    const Quantity* vintage = nullptr;
    int vintages = 0;
    for (const Quantity& one : note_.quantities) {
      if (one.frame != Frame::tasting || !one.value) continue;
      if (one.kind == QuantityKind::age) return Age{*one.value, one.span, in_years(*one.value)};
      if (one.kind == QuantityKind::vintage) vintage = &one, ++vintages;
    }
    if (vintages != 1 || tasting_year_ == 0 || *vintage->value > tasting_year_) return std::nullopt;
    const double years = tasting_year_ - *vintage->value;
    return Age{years, vintage->span, in_years(years)};
  }

  void compare_with_age() {
    if (note_.quantities.empty()) return;
    const std::optional<Age> age = stated_age();
    if (!age) return;
    constexpr int worth_a_remark = 3;   // one aroma, or a pale hue, is not
    if (std::abs(balance_) < worth_a_remark) return;
    const auto& found = *note_.maturity.stage;
    for (const EvidenceRecord& record : index_.of(AgeCue::age)) {
      if (age->years * 10.0 < record.least || age->years * 10.0 > record.most || !counts(record))
        continue;
      const bool expects_young = record.points_to == 0;
      if (expects_young ? found.first == Stage::early : found.second != Stage::early) continue;
      return remark_on_age(*age, expects_young);
    }
  }

  void remark_on_age(const Age& age, bool reads_older) {
    const PointsTo direction = reads_older ? PointsTo::older : PointsTo::younger;
    Remark remark{{}, {age.span}, reads_older ? "older-than-stated" : "younger-than-stated"};
    remark.text = std::string(reads_older ? "Reads older" : "Reads younger") +
                  " than its stated " + age.words + ": ";
    std::vector<std::string_view> given;
    for (const Evidence& one : note_.maturity.evidence) {
      if (one.points_to != direction) continue;
      remark.spans.push_back(one.span);
      if (std::find(given.begin(), given.end(), one.because) != given.end()) continue;
      remark.text.append(given.empty() ? "" : ", ").append(one.because);
      given.push_back(one.because);
    }
    remark.text += '.';
    std::sort(remark.spans.begin(), remark.spans.end());
    remark.spans.erase(std::unique(remark.spans.begin(), remark.spans.end()), remark.spans.end());
    note_.remarks.push_back(std::move(remark));
  }

  const CompiledLexicon& lexicon_;
  const AgeIndex& index_;
  const context::Workspace& work_;
  Note::Content& note_;
  int tasting_year_;                     // 0: not known
  int balance_ = 0;                      // older less younger
  std::uint32_t older_cues_ = 0;         // bit by AgeCue
  bool speaks_ = false;                  // more than what only supports
};

}  // namespace

AgeIndex::AgeIndex(const CompiledLexicon& lexicon) : lexicon_(lexicon) {
  for (std::uint32_t i = 0; i < lexicon.evidence.size(); ++i) {
    const EvidenceRecord& record = lexicon.evidence[i];
    const auto cue = static_cast<AgeCue>(record.cue);
    const bool is_hue = cue == AgeCue::core || cue == AgeCue::rim;
    std::uint16_t mask = 0;
    const auto values = lexicon.range(record.values);
    for (std::size_t v = 0; v + 1 < values.size(); v += 2) {
      const std::string_view value = lexicon.string({values[v], values[v + 1]});
      if (is_hue)
        place_hue(record, i, value);
      else if (cue == AgeCue::aroma)
        mask |= static_cast<std::uint16_t>(parse<Origin>(value).value_or(Origin::none));
      else if (cue == AgeCue::fruit)
        mask |= static_cast<std::uint16_t>(parse<State>(value).value_or(State::none));
    }
    if (is_hue) continue;
    by_cue_[record.cue].push_back(record);
    masks_[record.cue].push_back(mask);
  }
}

void AgeIndex::place_hue(const EvidenceRecord& record, std::uint32_t at, std::string_view hue) {
  const auto found = parse<Hue>(hue);
  if (!found) return;
  const bool at_rim = static_cast<AgeCue>(record.cue) == AgeCue::rim;
  for (unsigned wine = 0; wine < hues_.size(); ++wine)
    if (record.wine == 0 || (record.wine >> wine & 1u))
      hues_[wine][at_rim ? 1 : 0][static_cast<std::size_t>(*found)] =
          static_cast<std::uint16_t>(at + 1);
}

void judge_maturity(const CompiledLexicon& lexicon, const AgeIndex& index,
                    const context::Workspace& work, Note::Content& note,
                    int tasting_year) {
  Maturing(lexicon, index, work, note, tasting_year).judge();
}

}  // namespace racking::judge
