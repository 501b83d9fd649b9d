#include "match/coordination.hpp"

#include <algorithm>
#include <array>
#include <string_view>

#include "match/matcher.hpp"

namespace racking::match {

using lexicon::CompiledLexicon;
using lexicon::NodeId;
using lexicon::SenseKind;
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
      if (!mentions_[i].may_be(SenseKind::descriptor)) {
        if (mentions_[i].may_be(SenseKind::cue)) share_across(mentions_[i]);
        continue;
      }
      const Mention mention = mentions_[i];   // what is shared may take the place of this one
      share_leading_head(mention);
      if (mention.last - mention.first < 2) continue;
      share_head(mention);
      share_backward(mention);
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
    const bool plus = key(token) == "+" && text_.tokens[token].is(Token::space_before);
    if (mention && !plus) return is_conjunction(*mention);
    return plus || (text_.tokens[token].kind != TokenKind::word && (key(token) == "/" || key(token) == "&"));
  }

  static bool is_conjunction(const Mention& mention) {
    return (mention.kinds & MatchIndex::joins) != 0;
  }

  // A word of the lexicon whose cue has this `list`: "not" of "black, not red, fruit".
  bool has_list(NodeId node, lexicon::List list) const {
    if ((index_.kinds(node) & kind_bit(SenseKind::cue)) == 0) return false;
    for (const lexicon::Sense& sense : lexicon_.senses_of(node))
      if (sense.kind == SenseKind::cue &&
          lexicon_.cues[sense.index].list == static_cast<std::uint8_t>(list))
        return true;
    return false;
  }

  bool is_against(const Mention* mention) const {
    return mention && has_list(mention->node, lexicon::List::against);
  }

  // "green" of "green and black olives" is no item by itself: it is a level and a state too.
  static bool is_item(const Mention& mention) {
    return mention.may_be(SenseKind::descriptor) && !mention.may_be(SenseKind::level) &&
           !mention.may_be(SenseKind::cue);
  }

  bool may_modify(std::uint32_t token) {
    const Mention* own = over(token);
    if (!own) return text_.tokens[token].kind == TokenKind::word;
    return own->last - own->first == 1 && !is_item(*own) && !is_conjunction(*own) &&
           (own->may_be(SenseKind::hue) || !own->may_be(SenseKind::phrase));
  }

  bool is_mark(std::uint32_t token) const {
    return token < known_.size() && text_.tokens[token].kind != TokenKind::word &&
           text_.tokens[token].kind != TokenKind::number;
  }

  // "roast coffee and pecan" shares nothing: the two live in different places.
  std::uint32_t family(NodeId node) const {
    const std::uint32_t sense = index_.sense(node, SenseKind::descriptor);
    return sense != lexicon::none ? lexicon_.descriptors[sense].family : lexicon::none;
  }

  std::uint32_t descriptor(NodeId node) const { return index_.sense(node, SenseKind::descriptor); }

  bool is_descriptor_node(NodeId node) const {
    return (index_.kinds(node) & kind_bit(SenseKind::descriptor)) != 0;
  }

  // One link of a list to the left of `token`: the token before the join, or none.
  // `direct` is set when no comma stands there.
  bool step_left(std::uint32_t token, std::uint32_t& before, bool& direct) {
    token = before_qualifier(token);
    if (token == 0 || line_starts(token)) return false;
    std::uint32_t t = token - 1;
    direct = false;
    bool joined = false;
    if (const Mention* own = over(t); is_against(own)) t = own->first, joined = direct = true;
    if (joined || joins(t)) {
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

  // "white and a little pink pepper", "red and, to a lesser degree, black fruit": the place behind
  // the join, if but a word of doubt or strength stands between.
  std::uint32_t before_qualifier(std::uint32_t token) {
    constexpr std::uint32_t most_words = 6;
    if (token == 0 || line_starts(token)) return token;
    std::uint32_t t = token - 1;
    if (key(t) == ",") {
      for (std::uint32_t words = 0; words < most_words && t > 1 && !line_starts(t); ++words) {
        const Mention* own = over(--t);
        if (key(t) == ",") return joins(t - 1) ? t : token;
        if (own && (own->may_be(SenseKind::descriptor) || is_conjunction(*own))) return token;
      }
      return token;
    }
    const Mention* own = over(t);
    if (!own || own->first == 0 || is_conjunction(*own) || is_against(own) || line_starts(own->first))
      return token;
    const bool qualifies = (own->may_be(SenseKind::modifier) || own->may_be(SenseKind::cue)) &&
                           !own->may_be(SenseKind::descriptor) && !own->may_be(SenseKind::level) &&
                           !own->may_be(SenseKind::hue) &&
                           !has_list(known_[own->last - 1].root, lexicon::List::of);   // "a whiff of"
    return qualifies && joins(own->first - 1) ? own->first : token;
  }

  // "red and black cherries": what stands left of the join takes the head on the right.
  void share_head(const Mention& mention) {
    std::uint32_t edge = mention.first;
    bool whole = false;   // the item just shared could stand alone: "apple, pear and cherry blossom"
    for (int links = 0; links < 5; ++links) {
      std::uint32_t last = 0;
      bool direct = false;
      if (!step_left(edge, last, direct)) return;
      const Mention* own = over(last);
      const bool stands_alone = own && is_item(*own);
      // A whole item behind a comma keeps to itself: "apple, lime and orange blossom".
      if (stands_alone && (((!direct || links > 0) && !whole) || own->last - own->first > 1)) return;
      if (own && (is_conjunction(*own) || is_against(own))) return;
      const std::uint32_t begin = own ? own->first : last;
      NodeId node = 0;
      std::uint32_t head = mention.first + 1;
      for (; head < mention.last && node == 0; ++head) {
        const NodeId candidate =
            walk(index_, known_, begin, last + 1, head, mention.last);
        if (is_descriptor_node(candidate)) node = candidate;
      }
      if (node == 0) return;
      const bool alike = stands_alone && are_alike(*own, mention.first, head - 1);
      if (stands_alone && !alike && !(links == 0 && direct && may_share_head(*own, mention.first, head - 1)))
        return;
      whole = alike;
      add(begin, last + 1, head - 1, mention.last, node);
      edge = begin;
    }
  }

  // "raspberry and cherry jam": what is made of either, up to the head.
  bool may_share_head(const Mention& own, std::uint32_t first, std::uint32_t head) const {
    const NodeId other = walk(index_, known_, first, head);
    return has_list(known_[head].root, lexicon::List::head) && is_descriptor_node(other) &&
           descriptor(other) != descriptor(own.node);
  }

  // "lemon and lime zest" shares the zest; "apricot and orange blossom" does not share the
  // blossom: a whole item shares a head only with its like.
  bool are_alike(const Mention& own, std::uint32_t first, std::uint32_t last) const {
    const NodeId other = walk(index_, known_, first, last);
    // "plum and plum jam" are two things.
    return other != 0 && is_descriptor_node(other) && descriptor(other) != descriptor(own.node) &&
           family(own.node) == family(other);
  }

  // "dried fig, date and apricot": a state on the left goes with each item of the list.
  void share_modifier(const Mention& mention) {
    if ((known_[mention.first].kinds & MatchIndex::shares_state) == 0 &&
        !has_list(known_[mention.first].root, lexicon::List::pair))
      return;
    // Baked, stewed or toasted go with the second of a pair: "baked apple and pear".
    const bool of_pair = (known_[mention.first].kinds & MatchIndex::shares_state) == 0;
    std::uint32_t edge = mention.last;
    while (edge < known_.size()) {
      std::uint32_t t = edge;
      if (key(t) == ",") ++t;
      while (t < known_.size() && t <= edge + 1 && joins(t)) ++t;
      if (t == edge || t >= known_.size() || line_starts(t) || !list_ends_joined(edge)) return;
      if (of_pair && (edge != mention.last || key(edge) == ",")) return;
      const Mention* item = over(t);
      if (!item || !item->may_be(SenseKind::descriptor)) return;
      const std::uint32_t first = item->first, last = item->last;
      if (of_pair && family(item->node) != family(walk(index_, known_, mention.first + 1, mention.last)))
        return;
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

  // "red cherries, not black", "red apples and green": a modifier at the end takes the head.
  void share_backward(const Mention& mention) {
    std::uint32_t t = mention.last;
    if (t < known_.size() && key(t) == ",") ++t;
    if (t + 1 >= known_.size() || line_starts(t)) return;
    const Mention* link = over(t);
    if (!link || link->first != t) return;
    const bool against = is_against(link);
    if (!against && !is_conjunction(*link)) return;
    t = link->last;
    if (t >= known_.size() || line_starts(t) || !may_modify(t)) return;
    // "dark chocolate and bitter": a level is said of the wine.
    if (const Mention* own = over(t);
        !against && own && own->may_be(SenseKind::level) && !own->may_be(SenseKind::hue))
      return;
    // It must end its phrase.
    if (t + 1 < known_.size() && !line_starts(t + 1) &&
        (!is_mark(t + 1) || (key(t + 1) == "," && (!against || heads_after(t)))))
      return;
    for (std::uint32_t head = mention.first + 1; head < mention.last; ++head) {
      const NodeId node = walk(index_, known_, t, t + 1, head, mention.last);
      if (!is_descriptor_node(node)) continue;
      add(t, t + 1, head, mention.last, node);
      return;
    }
  }

  // "black, not red, fruit": the head is yet to come.
  bool heads_after(std::uint32_t token) const {
    return token + 2 < known_.size() &&
           is_descriptor_node(walk(index_, known_, token, token + 1, token + 2, token + 3));
  }

  // Around a word that joins or sets apart.
  void share_across(const Mention& link) {
    if (link.first == 0 || link.last >= known_.size() || line_starts(link.last)) return;
    if (is_conjunction(link)) {
      if (key(link.first - 1) == "-") return share_tail(link);
      if (may_modify(link.first - 1) && may_modify(link.last)) share_head_before(link);
    } else if (may_modify(link.last) && is_mark(link.last + 1) && is_against(&link)) {
      share_head_after(link);
    }
  }

  // "apples, both red and green", "plum both fresh and stewed".
  void share_head_before(const Mention& link) {
    const std::uint32_t one = link.first - 1, other = link.last;
    if (one == 0 || line_starts(one)) return;
    if (other + 1 < known_.size())
      if (const Mention* next = over(other + 1); next && next->may_be(SenseKind::descriptor)) return;
    std::uint32_t head = one - 1;
    bool both = false;
    if (const Mention* own = over(head); own && has_list(own->node, lexicon::List::both)) {
      both = true;
      if (head == 0 || line_starts(head)) return;
      --head;
    }
    if (key(head) == ",") {
      if (head == 0 || line_starts(head)) return;
      --head;
    }
    const NodeId first = walk(index_, known_, one, one + 1, head, head + 1);
    const NodeId second = walk(index_, known_, other, other + 1, head, head + 1);
    if (!is_descriptor_node(second)) return;
    if (is_descriptor_node(first)) {
      if (Mention* own = over(head)) own->node = 0;
      add(one, one + 1, head, head + 1, first);
    } else if (!both || over(head) == nullptr || !over(head)->may_be(SenseKind::descriptor)) {
      return;
    }
    add(other, other + 1, head, head + 1, second);
  }

  // "black, not red, fruit".
  void share_head_after(const Mention& link) {
    std::uint32_t one = link.first - 1;
    if (is_mark(one) && one > 0 && !line_starts(one)) --one;
    const std::uint32_t other = link.last, head = other + 2;
    if (head >= known_.size() || line_starts(head) || line_starts(one + 1)) return;
    const NodeId first = walk(index_, known_, one, one + 1, head, head + 1);
    const NodeId second = walk(index_, known_, other, other + 1, head, head + 1);
    if (!is_descriptor_node(first) || !is_descriptor_node(second)) return;
    if (Mention* own = over(head)) own->node = 0;
    add(one, one + 1, head, head + 1, first);
    add(other, other + 1, head, head + 1, second);
  }

  // "rasp-, blue- and blackberries": the end of the last word goes with each word cut short.
  void share_tail(const Mention& link) {
    const std::uint32_t whole = link.last;
    std::uint32_t mark = link.first - 1;
    while (mark > 0 && key(mark) == "-" && !text_.tokens[mark].is(Token::space_before)) {
      const NodeId node = with_tail(key(mark - 1), key(whole));
      if (!is_descriptor_node(node)) return;
      add(mark - 1, mark, whole, whole + 1, node);
      if (mark < 4 || key(mark - 2) != ",") return;
      mark -= 3;
    }
  }

  NodeId with_tail(std::string_view begin, std::string_view whole) const {
    constexpr std::size_t shortest = 3;
    for (std::size_t cut = 1; cut + shortest <= whole.size(); ++cut) {
      const std::string_view tail = whole.substr(cut);
      std::array<char, MatchIndex::longest_short_key + text::TokenizedText::key_padding> made{};
      const std::size_t size = begin.size() + tail.size();
      if (size > MatchIndex::longest_short_key) continue;
      std::copy(tail.begin(), tail.end(), std::copy(begin.begin(), begin.end(), made.begin()));
      const KnownWord word = index_.word(std::string_view(made.data(), size));
      if (is_descriptor_node(word.root)) return word.root;
    }
    return 0;
  }

  // "skins of apple and pear": the head stands first.
  void share_leading_head(const Mention& mention) {
    std::uint32_t head = mention.first;
    if (mention.last - mention.first >= 3) {
      if (!is_of(head + 1)) return;
    } else {
      if (head < 2 || !is_of(head - 1) || line_starts(head) || line_starts(head - 1)) return;
      head -= 2;
      const NodeId node = walk(index_, known_, mention.first, mention.last, head, head + 1);
      // "slices of apple" are apple.
      if (!is_descriptor_node(node) || descriptor(node) == descriptor(mention.node)) return;
      if (Mention* own = over(head); own && own->last == head + 1) own->node = 0;
      add(mention.first, mention.last, head, head + 1, node);
    }
    std::uint32_t edge = mention.last;
    while (edge + 1 < known_.size()) {
      std::uint32_t t = edge;
      if (key(t) == ",") ++t;
      if (joins(t)) ++t;
      if (t == edge || t >= known_.size() || line_starts(t) || !list_ends_joined(edge)) return;
      const Mention* item = over(t);
      if (!item || !item->may_be(SenseKind::descriptor)) return;
      const std::uint32_t first = item->first, last = item->last;
      const NodeId node = walk(index_, known_, first, last, head, head + 1);
      if (!is_descriptor_node(node)) return;
      add(first, last, head, head + 1, node);
      edge = last;
    }
  }

  // "of" inside a longer cue ("a drop of") is no such word.
  bool is_of(std::uint32_t token) {
    const Mention* own = over(token);
    const bool alone = own && own->last - own->first == 1;
    if (own && !alone && !own->may_be(SenseKind::descriptor)) return false;
    return has_list(known_[token].root, lexicon::List::of);
  }

  // "peach skin and pit": the first word goes with a second head that is no item itself.
  void share_first_word(const Mention& mention) {
    std::uint32_t t = mention.last;
    if (t + 1 >= known_.size() || !joins(t) || line_starts(t + 1)) return;
    ++t;
    const Mention* item = over(t);
    if (item && item->last - item->first > 1) return;
    // "orange peel and blossom", but "peach skin and honey".
    if (item && item->may_be(SenseKind::descriptor) && !has_list(item->node, lexicon::List::part)) return;
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
