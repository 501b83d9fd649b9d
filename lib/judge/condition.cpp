#include <algorithm>
#include <optional>

#include "context/scopes.hpp"
#include "judge/judge.hpp"

namespace racking::judge {

using lexicon::CompiledLexicon;
using lexicon::SenseKind;
using lexicon::SuspicionRecord;
using match::Mention;

namespace {

// Caution of the fault, from the table of faults.
std::string_view caution_of(const CompiledLexicon& lexicon, std::uint8_t fault) {
  for (const lexicon::FaultRecord& record : lexicon.faults)
    if (record.fault == fault) return lexicon.string(record.caution);
  return {};
}

class Condition {
 public:
  Condition(const CompiledLexicon& lexicon, const SuspectIndex& suspects,
            const context::Workspace& work, Note::Content& note)
      : lexicon_(lexicon), suspects_(suspects), work_(work), note_(note) {}

  void judge() {
    add_hints();
    for (const Aroma& aroma : note_.aromas) {
      if (aroma.stance == Stance::denied) continue;
      for (const SuspectIndex::Part part : suspects_[aroma.descriptor.index()])
        if (!part.is_company) suspect(part.suspicion);
    }
    auto& faults = note_.condition.faults;
    if (!faults.empty()) set_welcome_apart();
    if (faults.size() > 1) merge();
    verdict();
  }

 private:
  // ---- what suggests a fault ----

  // Words that only suggest a fault.
  void add_hints() {
    for (const std::uint32_t index : work_.lists.hints) {
      const Mention& mention = work_.mentions[index];
      if (!is_said(mention)) continue;
      const lexicon::Sense* sense = match::sense_of(lexicon_, mention.node, SenseKind::hint);
      const std::uint8_t fault = lexicon_.faults[sense->index].fault;
      if (!is_style(fault))
        add(fault, {work_.span(mention.first, mention.last)},
            {context::Step::hint, {}, mention.first, mention.last, lexicon::none, {}, {}});
    }
  }

  // Said of this wine, and not denied.
  bool is_said(const Mention& mention) const {
    const std::uint32_t head = mention.last - 1;
    if (work_.frames[mention.first] != Frame::tasting) return false;
    const lexicon::CueRecord* cue =
        context::cue_over(lexicon_, work_, context::Attribute::stance, head);
    return !cue || cue->stance != static_cast<std::uint8_t>(Stance::denied);
  }

  void suspect(std::uint32_t index) {
    const SuspicionRecord& suspicion = lexicon_.suspicions[index];
    // What may be either suspects first, and is company to another that does ("garlic, onion").
    std::vector<Span> suspects, company;
    std::optional<std::uint32_t> suspected;
    for (const Aroma& aroma : note_.aromas) {
      if (aroma.stance == Stance::denied) continue;
      const std::uint32_t descriptor = aroma.descriptor.index();
      bool suspects_too = false, accompanies = false;
      for (const SuspectIndex::Part part : suspects_[descriptor])
        if (part.suspicion == index) (part.is_company ? accompanies : suspects_too) = true;
      if (suspects_too && (!suspected || !accompanies || *suspected == descriptor)) {
        suspects.push_back(aroma.span);
        suspected = descriptor;
      } else if (accompanies) {
        company.push_back(aroma.span);
      }
    }
    if (suspects.empty()) return;
    if (suspicion.has_companions) add_companions(index, company);
    if ((suspicion.with.count != 0 || suspicion.has_companions) && company.empty()) return;
    if (is_style(suspicion.fault)) return;
    suspects.insert(suspects.end(), company.begin(), company.end());
    std::sort(suspects.begin(), suspects.end());
    suspects.erase(std::unique(suspects.begin(), suspects.end()), suspects.end());
    if (suspicion.remark.length == 0)
      return add(suspicion.fault, suspects,
                 {context::Step::suspicion, {}, 0, 0, index, {}, {}});
    remark(suspicion, std::move(suspects));
  }

  void add_companions(std::uint32_t suspicion, std::vector<Span>& company) const {
    for (const Mention& mention : work_.mentions)
      if (is_companion(mention, suspicion))
        company.push_back(work_.span(mention.first, mention.last));
  }

  bool is_companion(const Mention& mention, std::uint32_t suspicion) const {
    if (!mention.may_be(SenseKind::companion)) return false;
    for (const lexicon::Sense& sense : lexicon_.senses_of(mention.node))
      if (sense.kind == SenseKind::companion && sense.index == suspicion) return true;
    return false;
  }

  void add(std::uint8_t fault, const std::vector<Span>& spans, const context::Decision& why) {
    const auto kind = static_cast<Fault>(fault);
    for (const FaultReading& known : note_.condition.faults)
      if (known.fault == kind) return;   // the note's own word decides
    FaultReading reading;
    reading.fault = kind;
    reading.stance = Stance::hedged;
    reading.caution = caution_of(lexicon_, fault);
    reading.spans = {static_cast<std::uint32_t>(note_.parts.size()),
                     static_cast<std::uint32_t>(spans.size())};
    note_.parts.insert(note_.parts.end(), spans.begin(), spans.end());
    note_.condition.faults.push_back(reading);
    if (work_.trace) {
      work_.trace->open = {why};
      work_.trace->write(context::Written::fault, false, spans.front(), name_of(kind));
    }
  }

  // Too faint for a fault: a word between colleagues, where nothing else speaks of that fault.
  void remark(const SuspicionRecord& suspicion, std::vector<Span> spans) {
    for (const FaultReading& known : note_.condition.faults)
      if (static_cast<std::uint8_t>(known.fault) == suspicion.fault) return;
    const std::string_view text = lexicon_.string(suspicion.remark);
    for (const Remark& one : note_.remarks)
      if (one.text == text) return;
    note_.remarks.push_back({std::string(text), std::move(spans), "faint-suspicion"});
  }

  // ---- styles, and faults that pass or please ----

  // The note names a style that smells so by intention.
  bool is_style(std::uint8_t fault) const {
    if (note_.names.empty() && note_.traits.empty()) return false;
    for (const std::uint32_t index : suspects_.allowances()) {
      const SuspicionRecord& allowance = lexicon_.suspicions[index];
      if (allowance.fault == fault && (names_style(allowance) || has_trait(allowance))) return true;
    }
    return false;
  }

  bool names_style(const SuspicionRecord& allowance) const {
    const auto names = lexicon_.range(allowance.names);
    for (std::size_t i = 0; i + 1 < names.size(); i += 2)
      for (const Name& name : note_.names)
        if (name.name == lexicon_.string({names[i], names[i + 1]})) return true;
    return false;
  }

  bool has_trait(const SuspicionRecord& allowance) const {
    for (const std::uint32_t trait : lexicon_.range(allowance.traits))
      for (const Trait& one : note_.traits)
        if (one.stance == Stance::stated &&
            one.id == lexicon_.string(lexicon_.traits[trait].id))
          return true;
    return false;
  }

  // How many sentences end between two spans.
  int sentences_between(Span a, Span b) const {
    const std::uint32_t from = std::min(a.end, b.end), to = std::max(a.begin, b.begin);
    int ends = 0;
    for (std::uint32_t t = 1; t < work_.token_count(); ++t) {
      const std::uint32_t at = work_.text.tokens[t].span.begin;
      if (at >= from && at <= to && (work_.stops[t] & context::sentence_stop)) ++ends;
    }
    return ends;
  }

  // Words that say of this fault that it passes, or that it is liked.
  const Mention* is_allowed(const FaultReading& fault, bool welcome, int reach) const {
    const Span at = note_.parts[fault.spans.begin];
    for (const std::uint32_t index : suspects_.allowances()) {
      const SuspicionRecord& allowance = lexicon_.suspicions[index];
      if (allowance.fault != static_cast<std::uint8_t>(fault.fault) || !allowance.has_companions ||
          allowance.is(SuspicionRecord::welcome) != welcome)
        continue;
      for (const Mention& mention : work_.mentions)
        if (is_companion(mention, index) && is_said(mention) &&
            sentences_between(at, work_.span(mention.first, mention.last)) <= reach)
          return &mention;
    }
    return nullptr;
  }

  // "A bit of brett, and I like it that way": a style that is meant so is no fault.
  void set_welcome_apart() {
    auto& faults = note_.condition.faults;
    const auto is_welcome = [&](const FaultReading& fault) {
      return fault.stance != Stance::denied && is_allowed(fault, true, 0) != nullptr;
    };
    for (FaultReading& fault : faults)
      if (is_welcome(fault)) {
        note_.aside_faults.push_back(fault);
        note_.aside_faults.back().frame = Frame::other;
        if (!work_.trace) continue;
        for (context::TracedReading& traced : work_.trace->readings)
          if (traced.kind == context::Written::fault &&
              traced.span == note_.parts[fault.spans.begin]) {
            const Mention& words = *is_allowed(fault, true, 0);
            traced.aside = true;
            traced.decisions.push_back({context::Step::welcome, context::Attribute::frame,
                                        words.first, words.last, lexicon::none, {}, {}});
          }
      }
    std::erase_if(faults, is_welcome);
  }

  // ---- the whole ----

  // One entry a fault and stance, with all its spans.
  void merge() {
    std::vector<FaultReading> merged;
    for (const FaultReading& reading : note_.condition.faults) {
      const auto same = std::find_if(merged.begin(), merged.end(), [&](const FaultReading& m) {
        return m.fault == reading.fault && m.stance == reading.stance;
      });
      if (same == merged.end()) {
        merged.push_back(reading);
        continue;
      }
      std::vector<Span> spans(note_.parts.begin() + same->spans.begin,
                              note_.parts.begin() + same->spans.begin + same->spans.count);
      for (std::uint32_t i = 0; i < reading.spans.count; ++i)
        spans.push_back(note_.parts[reading.spans.begin + i]);
      same->spans = {static_cast<std::uint32_t>(note_.parts.size()),
                     static_cast<std::uint32_t>(spans.size())};
      note_.parts.insert(note_.parts.end(), spans.begin(), spans.end());
    }
    note_.condition.faults = std::move(merged);
  }

  // Suspect where a fault is stated or suspected, unless the note says that it passes; sound
  // only where the note says so; else not stated. A denial of one fault calls nothing sound.
  void verdict() {
    bool sound = false;
    for (const Trait& trait : note_.traits)
      sound = sound || (trait.id == "sound" && trait.stance == Stance::stated);
    bool suspect = false;
    for (const FaultReading& fault : note_.condition.faults)
      suspect = suspect || (fault.stance != Stance::denied && !is_allowed(fault, false, 1));
    note_.condition.verdict =
        suspect ? Verdict::suspect : sound ? Verdict::sound : Verdict::not_stated;
  }

  const CompiledLexicon& lexicon_;
  const SuspectIndex& suspects_;
  const context::Workspace& work_;
  Note::Content& note_;
};

}  // namespace

namespace {

// The descriptors named and, unless the suspicion is exact, all below them by any parent.
std::vector<std::uint32_t> all_meant(const CompiledLexicon& lexicon, lexicon::Range named,
                                     bool exact) {
  const auto list = lexicon.range(named);
  std::vector<std::uint32_t> all(list.begin(), list.end());
  for (std::size_t i = 0; i < all.size() && !exact; ++i)
    for (const std::uint32_t child : lexicon.range(lexicon.descriptors[all[i]].children))
      if (std::find(all.begin(), all.end(), child) == all.end()) all.push_back(child);
  return all;
}

}  // namespace

SuspectIndex::SuspectIndex(const CompiledLexicon& lexicon) {
  std::vector<std::vector<Part>> by_descriptor(lexicon.descriptors.size());
  for (std::uint32_t i = 0; i < lexicon.suspicions.size(); ++i) {
    const SuspicionRecord& suspicion = lexicon.suspicions[i];
    if (suspicion.is(SuspicionRecord::allowance)) allowances_.push_back(i);
    const bool exact = suspicion.is(SuspicionRecord::exact);
    for (const bool is_company : {false, true})
      for (const std::uint32_t descriptor :
           all_meant(lexicon, is_company ? suspicion.with : suspicion.any, exact))
        by_descriptor[descriptor].push_back({i, is_company});
  }
  for (const auto& its : by_descriptor) {
    begins_.push_back(static_cast<std::uint32_t>(parts_.size()));
    parts_.insert(parts_.end(), its.begin(), its.end());
  }
  begins_.push_back(static_cast<std::uint32_t>(parts_.size()));
}

void judge_condition(const CompiledLexicon& lexicon, const SuspectIndex& suspects,
                     const context::Workspace& work, Note::Content& note) {
  Condition(lexicon, suspects, work, note).judge();
}

}  // namespace racking::judge
