#include "context/clause_frames.hpp"

#include <algorithm>
#include <array>

#include "context/scopes.hpp"

namespace racking::context {

using lexicon::CueRecord;
using lexicon::SenseKind;
using lexicon::Stop;
using lexicon::weighed_frames;
using match::Mention;

namespace {

// What may be one of its smells, or how it is built.
constexpr std::uint32_t tasted_kinds = kind_bit(SenseKind::descriptor) | kind_bit(SenseKind::level);
// What parts a sentence into pieces that are weighed one by one, and what ends a stretch of them.
constexpr std::uint16_t ends = bits(Stop::clause) | bits(Stop::turn) | bits(Stop::home);
constexpr std::uint16_t part_stops = ends | bits(Stop::comma) | bits(Stop::contrast);
// Of one word at least that can be no smell.
constexpr std::uint32_t firm_weight = 2;
// … or less, where all have this together: "Mum's roast chicken, Mum's sage stuffing".
constexpr std::uint32_t heavy_weight = 6;
// What more a bare list takes: "BBQ smoke, coffee rub" may be smells.
constexpr std::uint32_t bare_weight = 2;
// What tells tell least of: "plum once out of the fridge" is of a wine.
constexpr unsigned serving_frame = weighed_frames - 2, other_frame = weighed_frames - 1;
// Words of any clause.
constexpr std::uint16_t function_words =
    bits(Stop::verb) | bits(Stop::preposition) | bits(Stop::determiner);

// Pieces of one sentence that stand together.
struct Stretch {
  // Of the pieces that tell of a frame: tokens.
  std::array<std::uint32_t, weighed_frames> begin{}, end{};
  std::array<std::uint32_t, weighed_frames> weight{};
  std::array<std::uint32_t, weighed_frames> heaviest{}, token{};   // … of one word, and where
  std::uint32_t words = 0, smells = 0;
  // Of words that can be no smell: the heaviest, and how many tell.
  std::array<std::uint32_t, weighed_frames> firm{}, telling{};
};

class Weigher {
 public:
  Weigher(const match::MatchIndex& index, Workspace& work)
      : index_(index), cues_(index.lexicon().cues), work_(work) {}

  void run() {
    const std::uint32_t count = work_.token_count();
    for (std::uint32_t begin = 0; begin < count;) {
      std::uint32_t end = begin + 1;
      while (end < count && !work_.stop_at(end, part_stops)) ++end;
      take(begin, end);
      begin = end;
    }
    settle();
  }

 private:
  void take(std::uint32_t begin, std::uint32_t end) {
    if (work_.stop_at(begin, ends) || is_colon(begin)) settle();
    const Tasted tasted = tasted_in(begin, end);
    if (tasted == Tasted::surely ||
        (tasted == Tasted::perhaps && !is_strong(begin, end) && !is_tale(begin, end)))
      return settle();
    std::uint32_t told = 0;   // frames, a bit each
    for (std::uint32_t t = begin; t < end; ++t) told |= weigh(t);
    for (unsigned frame = 0; frame < weighed_frames; ++frame) {
      if ((told & 1u << frame) == 0) continue;
      if (stretch_.end[frame] == 0) stretch_.begin[frame] = begin;
      stretch_.end[frame] = end;
    }
  }

  // "There was cherry", "a bit of cherry": of a wine, unless a word of another thing stands beside it.
  enum class Tasted { no, perhaps, surely };
  Tasted tasted_in(std::uint32_t begin, std::uint32_t end) const {
    if (is_home(begin)) return Tasted::surely;
    Tasted tasted = Tasted::no;
    for (std::uint32_t t = begin; t < end; ++t) {
      const std::uint32_t told = tells(t);
      if ((told & lexicon::tasted_tell) != 0) return Tasted::surely;
      if (is_of_wine_alone(work_, t) || reaches(Attribute::phase, t)) return Tasted::surely;
      if ((told & lexicon::perhaps_tasted_tell) != 0 || reaches(Attribute::strength, t) ||
          reaches(Attribute::stance, t))
        tasted = Tasted::perhaps;
    }
    return tasted;
  }
  bool reaches(Attribute attribute, std::uint32_t t) const {
    const std::uint32_t cue = reach(attribute)[t];
    return cue != 0 && !is_heading(cue);
  }

  // "There was a vase in the hall. Here: plum": such words prove nothing in a tale.
  bool is_tale(std::uint32_t begin, std::uint32_t end) const {
    constexpr std::uint32_t enough = 8;
    std::uint32_t weight = 0;
    for (std::uint32_t t = begin; t < end; ++t) weight += lexicon::weight_of(tells(t), other_frame);
    return weight >= enough && comes_home(end);
  }

  // One word that nobody smells in a wine says what is spoken of.
  bool is_strong(std::uint32_t begin, std::uint32_t end) const {
    constexpr std::uint32_t strong_weight = 3;
    for (std::uint32_t t = begin; t < end; ++t) {
      const Mention* mention = work_.mention(t);
      if (mention && mention->may_be(SenseKind::descriptor)) continue;
      for (unsigned frame = 0; frame < weighed_frames; ++frame)
        if (frame < serving_frame && lexicon::weight_of(tells(t), frame) >= strong_weight) return true;
    }
    return false;
  }

  // "What was left: mint": a list is announced.
  bool is_colon(std::uint32_t t) const {
    const text::Token& token = work_.text.tokens[t];
    return token.kind == text::TokenKind::punctuation && work_.text.key(token) == ":";
  }
  bool is_home(std::uint32_t t) const { return (work_.stops[t] & bits(Stop::home)) != 0; }

  // Returns the frames that the word tells of, a bit each; no "with" or "was" does alone.
  std::uint32_t weigh(std::uint32_t t) {
    const Mention* mention = work_.mention(t);
    const bool smells = mention && (mention->kinds & tasted_kinds) != 0;
    stretch_.smells += smells && mention->first == t ? 1u : 0u;
    stretch_.words += !smells && work_.text.tokens[t].kind != text::TokenKind::punctuation ? 1u : 0u;
    const std::uint32_t tells_of_it = tells(t) & lexicon::weight_tells;
    std::uint32_t told = 0;
    if (tells_of_it == 0) return told;
    for (unsigned frame = 0; frame < weighed_frames; ++frame) {
      const std::uint32_t full = lexicon::weight_of(tells_of_it, frame);
      const std::uint32_t weight = smells ? (full + 1) / 2 : full;
      if (!smells && full != 0) {
        stretch_.firm[frame] = std::max(stretch_.firm[frame], full);
        ++stretch_.telling[frame];
      }
      stretch_.weight[frame] += weight;
      if (weight != 0 && (frame == other_frame || !work_.stop_at(t, function_words))) told |= 1u << frame;
      if (weight <= stretch_.heaviest[frame]) continue;
      stretch_.heaviest[frame] = weight;
      stretch_.token[frame] = t;
    }
    return told;
  }

  // What the stretch that ends here speaks of.
  void settle() {
    unsigned most = weighed_frames;
    for (unsigned frame = 0; frame < weighed_frames; ++frame)
      if (says(frame) && (most == weighed_frames || stretch_.weight[frame] > stretch_.weight[most]))
        most = frame;
    if (most != weighed_frames)
      paint(stretch_.begin[most], stretch_.end[most], stretch_.token[most], index_.weighed_cue(most));
    stretch_ = {};
  }

  bool says(unsigned frame) const {
    const std::uint32_t cue = index_.weighed_cue(frame);
    const bool firm = stretch_.firm[frame] >= firm_weight ||
                      (stretch_.firm[frame] != 0 && stretch_.weight[frame] >= heavy_weight);
    return firm && cue != lexicon::none &&
           stretch_.weight[frame] >= least(cues_[cue]) + (stretch_.words > stretch_.telling[frame] ? 0u : bare_weight);
  }

  // Of no frame in particular: a tale has more words than smells, and most often turns to the
  // wine in the end.
  std::uint32_t least(const CueRecord& cue) const {
    if (static_cast<Frame>(cue.frame) != Frame::other) return cue.least;
    if (stretch_.words < 3 * stretch_.smells) return 2u * cue.least;
    if (!comes_home(stretch_.end[other_frame])) return cue.least + 2u;
    return turns_home(stretch_.end[other_frame]) ? cue.least - 1u : cue.least + 0u;
  }

  // Right behind it a sentence begins with the wine of the note: "Mine has plum."
  bool turns_home(std::uint32_t from) const {
    constexpr std::uint32_t first_words = 4;
    if (!work_.stop_at(from, bits(Stop::clause) | bits(Stop::turn))) return false;
    const std::uint32_t end = std::min(work_.token_count(), from + first_words);
    for (std::uint32_t t = from; t < end; ++t)
      if (is_home(t)) return true;
    return false;
  }

  bool comes_home(std::uint32_t from) const {
    bool home = false;
    const std::uint32_t end = std::min(work_.token_count(), from + look_around);
    for (std::uint32_t t = from; t < end; ++t) {
      home = home || is_home(t) || is_colon(t) || (tells(t) & lexicon::tasted_tell) != 0;
      const Mention* mention = work_.mention(t);
      if (home && mention && (mention->kinds & told_kinds) != 0) return true;
    }
    return false;
  }

  void paint(std::uint32_t begin, std::uint32_t end, std::uint32_t token, std::uint32_t cue) {
    work_.cues.push_back({token, token + 1, cue, false});
    auto& tokens = reach(Attribute::frame);
    for (std::uint32_t t = begin; t < end; ++t) {
      if (tokens[t] != 0 && !is_heading(tokens[t])) continue;
      tokens[t] = static_cast<std::uint32_t>(work_.cues.size());
      work_.frames[t] = static_cast<Frame>(cues_[cue].frame);
    }
  }

  std::uint32_t tells(std::uint32_t t) const { return index_.tells_of(work_.known[t]); }
  std::vector<std::uint32_t>& reach(Attribute attribute) const {
    return work_.reach[static_cast<std::size_t>(attribute)];
  }
  bool is_heading(std::uint32_t reach) const {
    return is_heading_reach(index_.lexicon(), work_, reach);
  }

  const match::MatchIndex& index_;
  std::span<const CueRecord> cues_;
  Workspace& work_;
  Stretch stretch_;
};

}  // namespace

void weigh_clauses(const match::MatchIndex& index, Workspace& work) {
  if (work.tellings.weight >= index.least_weight()) Weigher(index, work).run();
}

}  // namespace racking::context
