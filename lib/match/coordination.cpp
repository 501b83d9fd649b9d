#include "match/coordination.hpp"

#include <algorithm>
#include <string_view>

#include "match/matcher.hpp"

namespace racking::match {

using lexicon::CompiledLexicon;
using lexicon::NodeId;
using lexicon::SenseKind;
using lexicon::Stop;
using text::Token;
using text::TokenKind;

namespace {

class Coordinator {
 public:
  Coordinator(const text::TokenizedText& text, const MatchIndex& index,
              const std::vector<KnownWord>& known, std::vector<Mention>& mentions,
              const std::vector<std::uint32_t>& mention_at)
      : text_(text), index_(index), lexicon_(index.lexicon()), known_(known),
        mentions_(mentions), mention_at_(mention_at) {}

  bool run() {
    const std::size_t count = mentions_.size();
    for (std::size_t i = 0; i < count; ++i) {
      const Mention mention = mentions_[i];
      if (!mention.may_be(SenseKind::descriptor)) continue;
      if (mention.last - mention.first < 2) continue;
      share_head(mention);
      share_modifier(mention);
      share_first_word(mention);
    }
    if (added_.empty()) return false;
    erase_replaced();
    std::stable_sort(mentions_.begin(), mentions_.end(),
                     [](const Mention& a, const Mention& b) { return a.first < b.first; });
    return true;
  }

 private:
  std::string_view key(std::uint32_t token) const { return text_.key(text_.tokens[token]); }

  Mention* over(std::uint32_t token) {
    return mention_at_[token] == 0 ? nullptr : &mentions_[mention_at_[token] - 1];
  }

  bool line_starts(std::uint32_t token) const {
    return (text_.tokens[token].flags & (Token::line_before | Token::sentence_start)) != 0;
  }

  // "and", "or", "&", "/": a word or mark that the lexicon says joins.
  bool joins(std::uint32_t token) {
    const Mention* mention = over(token);
    if (mention) return is_conjunction(*mention);
    return text_.tokens[token].kind != TokenKind::word && (key(token) == "/" || key(token) == "&");
  }

  static bool is_conjunction(const Mention& mention) {
    return (mention.kinds & MatchIndex::joins) != 0;
  }

  // "roast coffee and pecan" shares nothing: the two live in different places.
  std::uint32_t family(NodeId node) const {
    const std::uint32_t sense = index_.sense(node, SenseKind::descriptor);
    return sense != lexicon::none ? lexicon_.descriptors[sense].family : lexicon::none;
  }

  bool is_descriptor_node(NodeId node) const {
    return (index_.kinds(node) & kind_bit(SenseKind::descriptor)) != 0;
  }

  // One link of a list to the left of `token`: the token before the join, or none.
  // `direct` is set when no comma stands there.
  bool step_left(std::uint32_t token, std::uint32_t& before, bool& direct) {
    if (token == 0 || line_starts(token)) return false;
    std::uint32_t t = token - 1;
    direct = false;
    bool joined = false;
    if (joins(t)) {
      joined = direct = true;
      if (t == 0) return false;
      --t;
    }
    if (key(t) == ",") {
      joined = true;
      direct = false;
      if (t == 0) return false;
      --t;
    }
    // A suspended hyphen: "black-, blue- and red-fruited".
    if (joined && key(t) == "-" && t > 0) --t;
    before = t;
    return joined && text_.tokens[t].kind == TokenKind::word;
  }

  // "red and black cherries": what stands left of the join takes the head on the right.
  void share_head(const Mention& mention) {
    std::uint32_t edge = mention.first;
    for (int links = 0; links < 5; ++links) {
      std::uint32_t last = 0;
      bool direct = false;
      if (!step_left(edge, last, direct)) return;
      const Mention* own = over(last);
      // "green" of "green and black olives" is no item by itself: it is a level and a state too.
      const bool stands_alone = own && own->may_be(SenseKind::descriptor) &&
                                !own->may_be(SenseKind::level) && !own->may_be(SenseKind::cue);
      // A whole item behind a comma keeps to itself: "apple, pear and peach blossom".
      if (stands_alone && (!direct || links > 0 || own->last - own->first > 1)) return;
      if (own && is_conjunction(*own)) return;
      const std::uint32_t begin = own ? own->first : last;
      NodeId node = 0;
      std::uint32_t head = mention.first + 1;
      for (; head < mention.last && node == 0; ++head) {
        const NodeId candidate =
            walk(index_, known_, begin, last + 1, head, mention.last);
        if (is_descriptor_node(candidate)) node = candidate;
      }
      if (node == 0) return;
      if (stands_alone && !are_alike(*own, mention.first, head - 1)) return;
      add(begin, last + 1, head - 1, mention.last, node);
      edge = begin;
    }
  }

  // "lemon and lime zest" shares the zest; "apricot and orange blossom" does not share the
  // blossom: a whole item shares a head only with its like.
  bool are_alike(const Mention& own, std::uint32_t first, std::uint32_t last) const {
    const NodeId other = walk(index_, known_, first, last);
    return other != 0 && is_descriptor_node(other) && family(own.node) == family(other);
  }

  // "dried fig, date and apricot": a state on the left goes with each item of the list.
  void share_modifier(const Mention& mention) {
    if ((known_[mention.first].kinds & MatchIndex::shares_state) == 0) return;
    std::uint32_t edge = mention.last;
    while (edge < known_.size()) {
      std::uint32_t t = edge;
      if (key(t) == ",") ++t;
      while (t < known_.size() && t <= edge + 1 && joins(t)) ++t;
      if (t == edge || t >= known_.size() || line_starts(t) || !list_ends_joined(edge)) return;
      const Mention* item = over(t);
      if (!item || !item->may_be(SenseKind::descriptor)) return;
      const std::uint32_t first = item->first, last = item->last;
      const NodeId node =
          walk(index_, known_, mention.first, mention.first + 1, first, last);
      if (!is_descriptor_node(node) || family(node) != family(mention.node)) return;
      add(first, last, mention.first, mention.first + 1, node);
      edge = last;
    }
  }

  // A list of plain commas shares nothing: "dried fig, tobacco, leather".
  bool list_ends_joined(std::uint32_t token) {
    for (std::uint32_t t = token; t < known_.size() && t < token + 8; ++t) {
      if (joins(t)) return true;
      const Mention* item = over(t);
      if (key(t) != "," && !(item && item->may_be(SenseKind::descriptor))) return false;
    }
    return false;
  }

  // "peach skin and pit": the first word goes with a second head that is no item itself.
  void share_first_word(const Mention& mention) {
    std::uint32_t t = mention.last;
    if (t + 1 >= known_.size() || !joins(t) || line_starts(t + 1)) return;
    ++t;
    const Mention* item = over(t);
    if (item && (item->may_be(SenseKind::descriptor) || item->last - item->first > 1)) return;
    // The second head must end its phrase: "peach skin and pit fruit" is another thing.
    if (t + 1 < known_.size()) {
      const Mention* next = over(t + 1);
      if (next && next->may_be(SenseKind::descriptor)) return;
    }
    const NodeId node =
        walk(index_, known_, mention.first, mention.last - 1, t, t + 1);
    if (is_descriptor_node(node)) add(t, t + 1, mention.first, mention.first + 1, node);
  }

  // A mention of tokens [first, last) whose shared word is [shared_first, shared_last). What
  // stood there by itself gives way.
  void add(std::uint32_t first, std::uint32_t last, std::uint32_t shared_first,
           std::uint32_t shared_last, NodeId node) {
    if (Mention* own = over(first)) own->node = 0;
    Mention& made = added_.emplace_back();
    made.first = first;
    made.last = last;
    made.shared_first = shared_first;
    made.shared_last = shared_last;
    made.node = node;
    made.kinds = index_.kinds(node);
  }

  void erase_replaced() {
    std::erase_if(mentions_, [](const Mention& mention) { return mention.node == 0; });
    mentions_.insert(mentions_.end(), added_.begin(), added_.end());
  }

  const text::TokenizedText& text_;
  const MatchIndex& index_;
  const CompiledLexicon& lexicon_;
  const std::vector<KnownWord>& known_;
  std::vector<Mention>& mentions_;
  const std::vector<std::uint32_t>& mention_at_;
  std::vector<Mention> added_;
};

}  // namespace

bool coordinate(const text::TokenizedText& text, const MatchIndex& index,
                const std::vector<KnownWord>& known, std::vector<Mention>& mentions,
                const std::vector<std::uint32_t>& mention_at) {
  return Coordinator(text, index, known, mentions, mention_at).run();
}

}  // namespace racking::match
