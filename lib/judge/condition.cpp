#include <algorithm>

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

bool contains(std::span<const std::uint32_t> list, std::uint32_t value) {
  return std::find(list.begin(), list.end(), value) != list.end();
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
      for (const std::uint32_t suspicion : suspects_[aroma.descriptor.index()])
        suspect(suspicion);
    }
    if (note_.condition.faults.size() > 1) merge();
    verdict();
  }

 private:
  // Words that only suggest a fault.
  void add_hints() {
    for (const std::uint32_t index : work_.lists.hints) {
      const Mention& mention = work_.mentions[index];
      if (work_.frames[mention.first] != Frame::tasting) continue;
      const lexicon::Sense* sense = match::sense_of(lexicon_, mention.node, SenseKind::hint);
      add(lexicon_.faults[sense->index].fault, {work_.span(mention.first, mention.last)},
          {context::Step::hint, {}, mention.first, mention.last, lexicon::none, {}, {}});
    }
  }

  void suspect(std::uint32_t index) {
    const SuspicionRecord& suspicion = lexicon_.suspicions[index];
    const auto any = lexicon_.range(suspicion.any), with = lexicon_.range(suspicion.with);
    std::vector<Span> suspects, company;
    for (const Aroma& aroma : note_.aromas) {
      if (aroma.stance == Stance::denied) continue;
      const std::uint32_t descriptor = aroma.descriptor.index();
      if (contains(any, descriptor))
        suspects.push_back(aroma.span);
      else if (contains(with, descriptor))
        company.push_back(aroma.span);
    }
    if (suspects.empty()) return;
    if (suspicion.has_companions) add_companions(index, company);
    if ((suspicion.with.count != 0 || suspicion.has_companions) && company.empty()) return;
    suspects.insert(suspects.end(), company.begin(), company.end());
    std::sort(suspects.begin(), suspects.end());
    add(suspicion.fault, suspects,
        {context::Step::suspicion, {}, 0, 0, index, {}, {}});
  }

  void add_companions(std::uint32_t suspicion, std::vector<Span>& company) const {
    for (const Mention& mention : work_.mentions)
      for (const lexicon::Sense& sense : lexicon_.senses_of(mention.node))
        if (sense.kind == SenseKind::companion && sense.index == suspicion)
          company.push_back(work_.span(mention.first, mention.last));
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

  void verdict() {
    bool sound = false;
    for (const Trait& trait : note_.traits)
      sound = sound || (trait.id == "sound" && trait.stance == Stance::stated);
    const bool suspect =
        std::any_of(note_.condition.faults.begin(), note_.condition.faults.end(),
                    [](const FaultReading& f) { return f.stance != Stance::denied; });
    note_.condition.verdict =
        suspect ? Verdict::suspect : sound ? Verdict::sound : Verdict::not_stated;
  }

  const CompiledLexicon& lexicon_;
  const SuspectIndex& suspects_;
  const context::Workspace& work_;
  Note::Content& note_;
};

}  // namespace

SuspectIndex::SuspectIndex(const CompiledLexicon& lexicon) {
  std::vector<std::vector<std::uint32_t>> by_descriptor(lexicon.descriptors.size());
  for (std::uint32_t i = 0; i < lexicon.suspicions.size(); ++i)
    for (const std::uint32_t descriptor : lexicon.range(lexicon.suspicions[i].any))
      by_descriptor[descriptor].push_back(i);
  for (const auto& its : by_descriptor) {
    begins_.push_back(static_cast<std::uint32_t>(suspicions_.size()));
    suspicions_.insert(suspicions_.end(), its.begin(), its.end());
  }
  begins_.push_back(static_cast<std::uint32_t>(suspicions_.size()));
}

void judge_condition(const CompiledLexicon& lexicon, const SuspectIndex& suspects,
                     const context::Workspace& work, Note::Content& note) {
  Condition(lexicon, suspects, work, note).judge();
}

}  // namespace racking::judge
