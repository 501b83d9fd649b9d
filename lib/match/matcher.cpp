#include "match/matcher.hpp"

namespace racking::match {

using lexicon::NodeId;
using text::Token;
using text::TokenKind;

namespace {

// What stands for a number in a form, a year apart.
KnownWord any_number(std::string_view key, const MatchIndex& index) {
  const bool year = key.size() == 4 && (key.starts_with("19") || key.starts_with("20")) &&
                    key[2] >= '0' && key[2] <= '9' && key[3] >= '0' && key[3] <= '9';
  return year ? index.year() : index.number();
}

// What the plain key gives, looked at again with the accents, or without a possessive.
KnownWord look_again(const text::TokenizedText& text, const Token& token,
                     const MatchIndex& index, const KnownWord& word) {
  if (token.is(Token::accented))
    if (const KnownWord exact = index.word(text.exact_key(token)); exact.id != 0) return exact;
  const std::string_view key = text.key(token);
  if (word.id != 0 || key.size() < 3) return word;
  if (key.ends_with("'s")) return index.word(key.substr(0, key.size() - 2));
  if (key.ends_with("s'")) return index.word(key.substr(0, key.size() - 1));
  return word;
}

// Finds the word of every token; true if each token that is a word is a known one.
bool identify(const text::TokenizedText& text, const MatchIndex& index,
              std::vector<KnownWord>& known) {
  // Fingerprints are made ahead of the look-ups, whose memory is on its way meanwhile.
  constexpr std::uint32_t ahead = 16;
  std::array<std::uint64_t, ahead> prints{};
  const auto count = static_cast<std::uint32_t>(text.tokens.size());
  const auto make = [&](std::uint32_t t) {
    const std::string_view key = text.key(text.tokens[t]);
    const std::uint64_t print =
        key.size() <= MatchIndex::longest_short_key ? MatchIndex::fingerprint(key) : 0;
    index.prefetch(print);
    prints[t % ahead] = print;
  };
  for (std::uint32_t t = 0; t < count && t < ahead; ++t) make(t);
  bool all_known = true;
  KnownWord last;
  for (std::uint32_t t = 0; t < count; ++t) {
    const Token& token = text.tokens[t];
    const std::uint64_t print = prints[t % ahead];
    if (t + ahead < count) make(t + ahead);
    KnownWord word = print != 0 ? index.word(print) : index.word(text.key(token));
    const bool stranger = word.id == 0 && token.kind == TokenKind::word;
    if (stranger || token.is(Token::accented)) {
      word = look_again(text, token, index, word);
      all_known = all_known && word.id != 0;
    } else if (word.id == 0 && token.kind == TokenKind::number) {
      word = any_number(text.key(token), index);
    }
    if (t > 0) known[t - 1].next = index.likely_step(last.root, word.id);
    known[t] = last = word;
  }
  return all_known;
}

struct Longest {
  NodeId node;
  std::uint32_t last;
  std::uint32_t kinds;
};

constexpr std::uint16_t breaks = Token::line_before | Token::sentence_start;

// The longest form from `first`, where slots may be in it; of equally long ones the narrowest (that
// with the fewest of any word, then of slots by name), then that with a word of its own the
// earliest. Every node is come to by one way, so that a search knows by the node it stands on what
// it has tried, and remembers nothing.
class SlotSearch {
 public:
  SlotSearch(const text::TokenizedText& text, const MatchIndex& index,
             const std::vector<KnownWord>& known, std::uint32_t first, std::uint32_t end)
      : text_(text), index_(index), known_(known), first_(first), end_(end) {}

  Longest longest() const {
    Longest best{0, first_ + 1, 0};
    NodeId at = 0;
    lexicon::WordId tried = 0;   // the last word that led on from here
    std::uint32_t width = 0, best_width = 0;
    for (std::uint32_t t = first_;;) {
      if (const NodeId child = may_go_on(at, t) ? step(at, t, tried) : 0; child != 0) {
        at = child;
        tried = 0;
        width += index_.width(index_.node(at).word);
        const std::uint32_t kinds = index_.kinds(at);
        if ((kinds & MatchIndex::kind_mask) != 0 &&
            (best.node == 0 || t + 1 > best.last || (t + 1 == best.last && width < best_width))) {
          best = {at, t + 1, kinds};
          best_width = width;
        }
        ++t;
      } else {
        if (at == 0) return best;
        tried = index_.node(at).word;
        width -= index_.width(tried);
        at = index_.node(at).parent;
        --t;
      }
    }
  }

 private:
  bool may_go_on(NodeId at, std::uint32_t t) const {
    return at == 0 || ((index_.kinds(at) & MatchIndex::goes_on) != 0 && t < end_ &&
                       (text_.tokens[t].flags & breaks) == 0);
  }

  NodeId by(NodeId from, lexicon::WordId word) const {
    return from == 0 ? index_.root(word) : index_.step(from, word).node;
  }

  // By the word itself, its slots in order, any word: the first of them after `tried`.
  NodeId step(NodeId from, std::uint32_t t, lexicon::WordId tried) const {
    const lexicon::WordId word = known_[t].id, any = index_.any_word();
    if (tried == 0 && word != 0)
      if (const NodeId child = by(from, word); child != 0) return child;
    const bool all = tried == 0 || tried == word;
    if (from == 0) {
      for (const lexicon::WordId slot : index_.first_slots(word))
        if (all || slot > tried) return index_.root(slot);
      return 0;
    }
    if ((index_.kinds(from) & MatchIndex::slots) == 0 || (tried != 0 && tried == any)) return 0;
    if (index_.may_follow(from, word)) {
      // Both lists are in order.
      const auto its = index_.slots_of(word);
      auto slot = its.begin();
      for (const MatchIndex::SlotEdge& edge : index_.slot_edges(from)) {
        if (!all && edge.slot <= tried) continue;
        while (slot != its.end() && *slot < edge.slot) ++slot;
        if (slot == its.end()) break;
        if (*slot == edge.slot) return edge.to;
      }
    }
    const TokenKind kind = text_.tokens[t].kind;
    const bool is_word = kind == TokenKind::word || kind == TokenKind::number;
    return is_word && any != 0 ? index_.step(from, any).node : 0;
  }

  const text::TokenizedText& text_;
  const MatchIndex& index_;
  const std::vector<KnownWord>& known_;
  const std::uint32_t first_, end_;
};

// The longest form from `first` that ends at `end` or before.
Longest longest(const text::TokenizedText& text, const MatchIndex& index,
                const std::vector<KnownWord>& known, std::uint32_t first, std::uint32_t end) {
  const KnownWord word = known[first];
  if ((word.kinds & MatchIndex::slots) != 0 && first + 1 < end && index.may_go_on(word.id, known[first + 1].id))
    return SlotSearch(text, index, known, first, end).longest();
  Longest best{(word.kinds & MatchIndex::kind_mask) != 0 ? word.root : 0, first + 1, word.kinds};
  const auto may_go_on = [&](std::uint32_t t) {
    return t < end && known[t].id != 0 && (text.tokens[t].flags & breaks) == 0;
  };
  std::uint32_t t = first + 1;
  if (word.next == 0 || !may_go_on(t)) return best;
  MatchIndex::Step at = index.from_likely(word.next, word.root, known[t].id);
  if ((at.kinds & MatchIndex::kind_mask) != 0) best = {at.node, t + 1, at.kinds};
  for (++t; (at.kinds & MatchIndex::goes_on) != 0; ++t) {
    if ((at.kinds & MatchIndex::slots) != 0)
      return SlotSearch(text, index, known, first, end).longest();
    if (!may_go_on(t)) break;
    at = index.step(at.node, known[t].id);
    if ((at.kinds & MatchIndex::kind_mask) != 0) best = {at.node, t + 1, at.kinds};
  }
  return best;
}

}  // namespace

NodeId walk(const MatchIndex& index, const std::vector<KnownWord>& known, std::uint32_t first,
            std::uint32_t last, std::uint32_t more_first, std::uint32_t more_last) {
  if (first == last) return walk(index, known, more_first, more_last);
  MatchIndex::Step at{known[first].root, known[first].kinds};
  const auto go = [&](std::uint32_t from, std::uint32_t to) {
    for (std::uint32_t t = from; t < to && at.node != 0; ++t)
      at = (at.kinds & MatchIndex::goes_on) != 0 && known[t].id != 0
               ? index.step(at.node, known[t].id)
               : MatchIndex::Step{};
  };
  go(first + 1, last);
  go(more_first, more_last);
  return at.node;
}

namespace {

// "tastes off-dry": a form ends before a word that opens a hyphenated form of its own.
Longest without_compound(const text::TokenizedText& text, const MatchIndex& index,
                         const std::vector<KnownWord>& known, std::uint32_t first, Longest best) {
  const std::uint32_t last = best.last - 1;
  const auto count = static_cast<std::uint32_t>(known.size());
  const bool opens = longest(text, index, known, last, count).last > best.last;
  return opens ? longest(text, index, known, first, last) : best;
}

}  // namespace

void find_mentions(const text::TokenizedText& text, const MatchIndex& index,
                   std::vector<KnownWord>& known, std::vector<Mention>& mentions,
                   std::vector<std::uint32_t>& mention_at,
                   const Spelling* spelling, std::vector<std::uint32_t>* respelled) {
  const auto count = static_cast<std::uint32_t>(text.tokens.size());
  mentions.clear();
  known.resize(count);
  mention_at.assign(count, 0);
  const bool all_known = identify(text, index, known);
  if (respelled != nullptr) respelled->clear();
  if (spelling != nullptr && !all_known) {
    spelling->respell(text, known, *respelled);
    for (const std::uint32_t t : *respelled) {
      if (t > 0) known[t - 1].next = index.likely_step(known[t - 1].root, known[t].id);
      if (t + 1 < count) known[t].next = index.likely_step(known[t].root, known[t + 1].id);
    }
  }
  for (std::uint32_t first = 0; first < count;) {
    if (known[first].root == 0 && (known[first].kinds & MatchIndex::slots) == 0) {
      ++first;
      continue;
    }
    Longest best = longest(text, index, known, first, count);
    if (best.last < count && best.last - first >= 2 && text.tokens[best.last].is(Token::joined_before))
      best = without_compound(text, index, known, first, best);
    if (best.node != 0) {
      Mention& mention = mentions.emplace_back();
      mention.first = first;
      mention.last = best.last;
      mention.node = best.node;
      mention.kinds = best.kinds;
      index.prefetch_node(best.node);
      const auto number = static_cast<std::uint32_t>(mentions.size());
      for (std::uint32_t t = first; t < best.last; ++t) mention_at[t] = number;
    }
    first = best.last;
  }
}

}  // namespace racking::match
