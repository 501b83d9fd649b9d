#include "context/phases.hpp"

#include <algorithm>

#include "context/scopes.hpp"

namespace racking::context {

using lexicon::CompiledLexicon;
using lexicon::SenseKind;
using lexicon::Stop;
using match::Mention;

namespace {

class Refiner {
 public:
  Refiner(const CompiledLexicon& lexicon, Workspace& work) : lexicon_(lexicon), work_(work) {}

  void refine() {
    for (const std::uint32_t index : work_.lists.decided)
      if (const Mention& mention = work_.mentions[index]; mention.is(SenseKind::hue) || mention.is(SenseKind::sight)) spread_sight(mention);
    open_palates();
  }

 private:
  std::uint32_t reach(std::uint32_t token) const {
    return work_.reach[static_cast<std::size_t>(Attribute::phase)][token];
  }

  bool under_heading(std::uint32_t token) const {
    const std::uint32_t index = reach(token);
    return index != 0 && is_heading_reach(lexicon_, work_, index);
  }

  void spread_sight(const Mention& mention) {
    constexpr std::uint16_t comma = bits(Stop::comma);
    std::uint32_t begin = mention.first, end = mention.last;
    while (begin > 0 && !work_.stop_at(begin, comma)) --begin;
    while (end < work_.token_count() && !work_.stop_at(end, comma)) ++end;
    for (std::uint32_t t = begin; t < end; ++t) {
      if (reach(t) != 0) continue;
      work_.phases[t] = Phase::sight;
      if (work_.trace)
        work_.trace->phase(t, t + 1, {Step::sight_beside, Attribute::phase, mention.first,
                                      mention.last, lexicon::none, {}, {}});
    }
  }

  const StructureUse* structure(std::uint32_t begin, std::uint32_t end) const {
    const auto found = std::find_if(work_.structures.begin(), work_.structures.end(),
                                    [&](const StructureUse& use) {
                                      return use.dimension != Dimension::expression &&
                                             use.range && use.first >= begin && use.first < end;
                                    });
    return found == work_.structures.end() ? nullptr : &*found;
  }

  void open_palates() {
    std::uint32_t heading = 0;   // reach index of the heading whose palate has opened
    const StructureUse* opener = nullptr;
    for (std::uint32_t begin = 0; begin < work_.token_count();) {
      std::uint32_t end = begin + 1;
      while (end < work_.token_count() && !work_.stop_at(end, 0)) ++end;
      const std::uint32_t here = reach(begin);
      if (here != 0 && under_heading(begin) && work_.phases[begin] == Phase::nose &&
          work_.cues[here - 1].first < begin) {
        if (heading != here)
          if (const StructureUse* found = structure(begin, end)) {
            heading = here;
            opener = found;
          }
        if (heading == here)
          for (std::uint32_t t = begin; t < end; ++t) {
            if (reach(t) != here) continue;
            work_.phases[t] = Phase::palate;
            if (work_.trace)
              work_.trace->phase(t, t + 1, {Step::palate_opened, Attribute::phase, opener->first,
                                            opener->last, here - 1, {}, {}});
          }
      }
      begin = end;
    }
  }

  const CompiledLexicon& lexicon_;
  Workspace& work_;
};

}  // namespace

void refine_phases(const CompiledLexicon& lexicon, Workspace& work) {
  Refiner(lexicon, work).refine();
}

}  // namespace racking::context
