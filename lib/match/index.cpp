#include "match/index.hpp"

#include <algorithm>
#include <bit>
#include <string>

#include "lexicon/variants.hpp"
#include "racking/error.hpp"

namespace racking::match {

using lexicon::CompiledLexicon;
using lexicon::SenseKind;

namespace {

static_assert(std::endian::native == std::endian::little, "keys are packed as they lie in memory");
static_assert(lexicon::sense_kind_count <= 14, "kind bits leave room for the marks");

std::uint32_t marks(const lexicon::CueRecord& cue) {
  constexpr auto conjunction = static_cast<std::uint16_t>(lexicon::Stop::conjunction);
  // Dried and candied go with a whole list; baked or stewed with the item they stand before.
  constexpr auto shared = static_cast<std::uint16_t>(State::dried | State::candied);
  const auto role = static_cast<lexicon::Role>(cue.role);
  std::uint32_t marks = 0;
  if (role == lexicon::Role::heading) marks |= MatchIndex::heads;
  if (lexicon::acts_by_place(role)) marks |= MatchIndex::placed;
  if (role != lexicon::Role::stop && role != lexicon::Role::decoy) marks |= MatchIndex::acts;
  if ((cue.is_stop & conjunction) != 0) marks |= MatchIndex::joins;
  if ((cue.state & shared) != 0) marks |= MatchIndex::shares_state;
  return marks;
}

}  // namespace

MatchIndex::MatchIndex(const CompiledLexicon& lexicon) : lexicon_(lexicon) {
  lexicon::WordId last = 0;
  for (const lexicon::Word& word : lexicon.words) last = std::max(last, word.id);
  constexpr std::size_t most = std::size_t{1} << id_bits;
  if (last >= most || lexicon.nodes.size() > most)
    throw Error(ErrorCode::lexicon_invalid, "the lexicon has " + std::to_string(last) +
                                                " words and " +
                                                std::to_string(lexicon.nodes.size()) +
                                                " nodes; the limit of each is " +
                                                std::to_string(most));
  roots_.assign(last + 1, 0);
  tells_.assign(last + 1, 0);
  for (const lexicon::TellRecord& tell : lexicon.tells) {
    std::uint32_t& known = tells_[lexicon.word(lexicon.string(tell.word))];
    // The later topic and weight are meant: an overlay decides otherwise.
    if (lexicon::has_topic(tell.tells)) known &= ~lexicon::topic_tells;
    if (lexicon::weight_of_whole(tell.tells) != 0) known &= ~lexicon::whole_weights;
    known |= tell.tells;
  }
  tells_[0] = 0;
  find_weighed_cues();
  lay_out_slots();
  lay_out_nodes();
  nodes_[0] = {};   // the root is the node of words that begin no form
  lay_out_edges();
  lay_out_slot_edges();
  lay_out_words();
  if (const lexicon::WordId id = lexicon.word(year_form); id != 0) year_ = known(id);
  if (const lexicon::WordId id = lexicon.word(number_form); id != 0) number_ = known(id);
}

void MatchIndex::find_weighed_cues() {
  constexpr std::array frames{Frame::pairing, Frame::making, Frame::place, Frame::serving, Frame::other};
  static_assert(frames.size() == lexicon::weighed_frames);
  weighed_cues_.fill(lexicon::none);
  for (std::uint32_t i = 0; i < lexicon_.cues.size(); ++i) {
    const lexicon::CueRecord& cue = lexicon_.cues[i];
    if (static_cast<lexicon::Role>(cue.role) != lexicon::Role::weighed) continue;
    const auto frame = std::find(frames.begin(), frames.end(), static_cast<Frame>(cue.frame));
    if (frame == frames.end()) continue;
    weighed_cues_[static_cast<std::size_t>(frame - frames.begin())] = i;
    least_weight_ = std::min<std::uint32_t>(least_weight_, cue.least);
  }
}

Rows::Rows(std::size_t count, std::vector<std::pair<std::uint32_t, lexicon::WordId>> pairs)
    : begin_(count + 1, 0) {
  std::sort(pairs.begin(), pairs.end());
  for (const auto& [row, word] : pairs) ++begin_[row + 1];
  for (std::size_t i = 1; i < begin_.size(); ++i) begin_[i] += begin_[i - 1];
  for (const auto& [row, word] : pairs) items_.push_back(word);
}

void MatchIndex::lay_out_slots() {
  any_word_ = lexicon_.word(lexicon::any_word);
  for (const lexicon::Edge& edge : lexicon_.edges)
    if (edge.to != 0 && edge.from == 0) roots_[edge.word] = edge.to;
  std::vector<std::pair<std::uint32_t, lexicon::WordId>> all, first;
  slot_marks_.assign(roots_.size(), 0);
  widths_.assign(roots_.size(), 0);
  for (const lexicon::SlotRecord& slot : lexicon_.slots)
    widths_[slot.word] = lexicon::is_alternatives(lexicon_.string(slot.id)) ? 0 : named_width;
  if (any_word_ != 0) widths_[any_word_] = any_width;
  for (const lexicon::SlotRecord& slot : lexicon_.slots)
    for (const lexicon::WordId word : lexicon_.range(slot.words)) {
      all.emplace_back(word, slot.word);
      if (roots_[slot.word] != 0) first.emplace_back(word, slot.word);
      slot_marks_[word] |= slot_mark(slot.word);
    }
  slots_ = Rows(roots_.size(), std::move(all));
  first_slots_ = Rows(roots_.size(), std::move(first));
}

bool MatchIndex::begins_slot_form(lexicon::WordId id) const noexcept {
  return !first_slots(id).empty();
}

void MatchIndex::lay_out_slot_edges() {
  std::vector<bool> is_slot(roots_.size(), false);
  for (const lexicon::SlotRecord& slot : lexicon_.slots) is_slot[slot.word] = true;
  std::vector<lexicon::Edge> edges;
  for (const lexicon::Edge& edge : lexicon_.edges) {
    if (edge.to == 0 || edge.from == 0) continue;
    if (is_slot[edge.word]) edges.push_back(edge);
    if (is_slot[edge.word] || edge.word == any_word_) nodes_[edge.from].kinds |= slots;
  }
  std::sort(edges.begin(), edges.end(), [](const lexicon::Edge& a, const lexicon::Edge& b) {
    return a.from != b.from ? a.from < b.from : a.word < b.word;
  });
  slot_runs_.assign(1, {});   // of nodes that have none
  for (std::size_t i = 0; i < edges.size(); ++i) {
    if (i == 0 || edges[i].from != edges[i - 1].from) {
      nodes_[edges[i].from].slot_run = static_cast<std::uint32_t>(slot_runs_.size());
      slot_runs_.push_back({0, static_cast<std::uint32_t>(i), 0});
    }
    slot_runs_.back().marks |= slot_mark(edges[i].word);
    ++slot_runs_.back().count;
    slot_edges_.push_back({edges[i].word, edges[i].to});
  }
  lay_out_ahead(is_slot);
}

void MatchIndex::lay_out_ahead(const std::vector<bool>& is_slot) {
  std::vector<Ahead> behind(nodes_.size());
  for (const lexicon::Edge& edge : lexicon_.edges) {
    if (edge.to == 0 || edge.from == 0 || nodes_[edge.from].parent != 0) continue;
    Ahead& ahead = behind[edge.from];
    if (edge.word == any_word_) ahead.words = ~std::uint64_t{0};
    else if (is_slot[edge.word]) ahead.slots |= slot_mark(edge.word);
    else ahead.words |= std::uint64_t{1} << word_mark(edge.word);
  }
  ahead_.assign(roots_.size(), {});
  for (lexicon::WordId id = 1; id < roots_.size(); ++id) {
    // By a word behind the word itself a form goes on as any other does.
    const Ahead own = behind[roots_[id]];
    ahead_[id] = {own.words == ~std::uint64_t{0} ? own.words : 0, own.slots};
    for (const lexicon::WordId slot : first_slots(id)) {
      ahead_[id].words |= behind[roots_[slot]].words;
      ahead_[id].slots |= behind[roots_[slot]].slots;
    }
  }
}

void MatchIndex::lay_out_nodes() {
  nodes_.resize(lexicon_.nodes.size());
  for (std::size_t i = 0; i < nodes_.size(); ++i) {
    Node& node = nodes_[i];
    const lexicon::Node& given = lexicon_.nodes[i];
    const auto senses = lexicon_.senses.subspan(given.senses.begin, given.senses.count);
    for (const lexicon::Sense& sense : senses) {
      node.kinds |= kind_bit(sense.kind);
      if (sense.kind != SenseKind::cue) continue;
      const lexicon::CueRecord& cue = lexicon_.cues[sense.index];
      node.kinds |= marks(cue);
      node.stops = static_cast<std::uint16_t>(node.stops | cue.is_stop);
    }
    if (given.children != 0) node.kinds |= goes_on;
    node.rules = given.rules.begin;
    node.rule_count = static_cast<std::uint8_t>(std::min(given.rules.count, 255u));
    if (senses.empty()) continue;
    const auto meant = std::find_if(preferred_kinds.begin(), preferred_kinds.end(), [&](SenseKind kind) {
      return (node.kinds & kind_bit(kind)) != 0;
    });
    node.kind = meant == preferred_kinds.end() ? senses.front().kind : *meant;
    node.sense = std::find_if(senses.begin(), senses.end(), [&](const lexicon::Sense& sense) {
                   return sense.kind == node.kind;
                 })->index;
  }
}

void MatchIndex::lay_out_edges() {
  pairs_.assign(std::size_t{1} << (pair_bits - 6), 0);
  std::size_t count = 0;
  for (const lexicon::Edge& edge : lexicon_.edges) {
    if (edge.to == 0) continue;
    nodes_[edge.to].parent = edge.from;
    nodes_[edge.to].word = edge.word;
    count += edge.from != 0 ? 1u : 0u;
  }
  edges_.resize(std::bit_ceil(std::max<std::size_t>(8, count + count / 2)));
  edge_mask_ = edges_.size() - 1;
  for (const lexicon::Edge& edge : lexicon_.edges) {
    if (edge.to == 0 || edge.from == 0) continue;
    const std::uint32_t pair = pair_hash(edge.from, edge.word);
    pairs_[pair >> 6] |= std::uint64_t{1} << (pair & 63);
    std::size_t at = pair & edge_mask_;
    while (edges_[at] != 0) at = (at + 1) & edge_mask_;
    edges_[at] = edge.to;
  }
}

void MatchIndex::lay_out_words() {
  std::size_t count = 0;
  for (const lexicon::Word& word : lexicon_.words) count += word.id != 0 ? 1u : 0u;
  // Two thirds full, that few buckets overflow; what overflows the last goes on behind it.
  bucket_count_ = count / bucket_size * 3 / 2 + 2;
  buckets_.resize(bucket_count_);
  for (const lexicon::Word& word : lexicon_.words) {
    const std::string_view key = lexicon_.string(word.key);
    if (word.id == 0 || key.size() > longest_short_key) continue;
    std::array<char, 2 * sizeof(std::uint64_t)> padded{};
    std::copy(key.begin(), key.end(), padded.begin());
    const std::uint64_t its = fingerprint({padded.data(), key.size()});
    const KnownWord known_word = known(word.id);
    const std::uint64_t packed = std::uint64_t{known_word.kinds} << 2 * id_bits |
                                 std::uint64_t{known_word.root} << id_bits | known_word.id;
    for (std::size_t at = bucket_of(its);; ++at) {
      if (at == buckets_.size()) buckets_.emplace_back();
      Bucket& bucket = buckets_[at];
      const auto free = std::find(bucket.fingerprint.begin(), bucket.fingerprint.end(), 0u);
      if (free == bucket.fingerprint.end()) continue;
      *free = its;
      bucket.word[static_cast<std::size_t>(free - bucket.fingerprint.begin())] = packed;
      break;
    }
  }
  buckets_.emplace_back();   // never full: every search ends
}

KnownWord MatchIndex::long_word(std::string_view key) const noexcept {
  const lexicon::WordId id = lexicon_.word(key);
  return id == 0 ? KnownWord{} : known(id);
}

std::uint32_t MatchIndex::other_sense(lexicon::NodeId node, SenseKind kind) const noexcept {
  if ((nodes_[node].kinds & kind_bit(kind)) == 0) return lexicon::none;
  for (const lexicon::Sense& sense : lexicon_.senses_of(node))
    if (sense.kind == kind) return sense.index;
  return lexicon::none;
}

}  // namespace racking::match
