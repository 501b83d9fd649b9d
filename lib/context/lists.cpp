#include "context/lists.hpp"

namespace racking::context {

using lexicon::SenseKind;
using match::Mention;

namespace {

// A list that is filled without a branch for each item: every index is written, and stays if
// it counts.
class Filler {
 public:
  Filler(std::vector<std::uint32_t>& list, std::size_t most) : list_(list) { list.resize(most); }
  ~Filler() { list_.resize(count_); }
  Filler(const Filler&) = delete;
  Filler& operator=(const Filler&) = delete;
  void add(std::uint32_t index, bool counts) noexcept {
    list_[count_] = index;
    count_ += counts ? 1u : 0u;
  }

 private:
  std::vector<std::uint32_t>& list_;
  std::size_t count_ = 0;
};

constexpr std::uint32_t mask(SenseKind kind) { return kind_bit(kind); }

}  // namespace

void list_mentions(Workspace& work) {
  constexpr std::uint32_t structural =
      mask(SenseKind::phrase) | mask(SenseKind::trait) | mask(SenseKind::level);
  constexpr std::uint32_t silent = mask(SenseKind::known) | lexicon::claiming_kinds;
  constexpr std::uint32_t helping =
      mask(SenseKind::cue) | mask(SenseKind::anchor) | mask(SenseKind::modifier);
  const auto count = static_cast<std::uint32_t>(work.mentions.size());
  work.accounted.assign(work.token_count(), 0);
  Filler cues(work.lists.cues, count), anchors(work.lists.anchors, count),
      claiming(work.lists.claiming, count), hints(work.lists.hints, count);
  for (std::uint32_t i = 0; i < count; ++i) {
    const Mention& mention = work.mentions[i];
    const std::uint32_t kinds = mention.kinds;
    const bool long_one = mention.last - mention.first >= 2;
    const bool cue = (kinds & mask(SenseKind::cue)) != 0;
    const bool acts = (kinds & match::MatchIndex::acts) != 0;
    const bool may_hold_cue = !cue & long_one & ((kinds & structural) != 0) & !mention.shares();
    cues.add(i, acts | may_hold_cue);
    anchors.add(i, ((kinds & mask(SenseKind::anchor)) != 0) | (cue & long_one));
    claiming.add(i, (kinds & lexicon::claiming_kinds) != 0);
    hints.add(i, (kinds & mask(SenseKind::hint)) != 0);
    const auto account = static_cast<std::uint8_t>(
        ((kinds & silent) != 0 ? Workspace::silent : 0) |
        ((kinds & helping) != 0 ? Workspace::accounted_for : 0));
    for (std::uint32_t t = mention.first; t < mention.last; ++t) work.accounted[t] = account;
  }
}

}  // namespace racking::context
