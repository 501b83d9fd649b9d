#include "match/spelling.hpp"

#include <algorithm>
#include <cstdlib>
#include <optional>
#include <span>
#include <utility>

namespace racking::match {

using lexicon::CompiledLexicon;
using lexicon::NodeId;
using lexicon::SenseKind;
using lexicon::WordId;
using text::Token;
using text::TokenKind;

namespace {

constexpr std::size_t shortest_slip = 5;
constexpr std::size_t two_edits_from = 9;    // letters
constexpr int most_attempts = 64;            // a note
constexpr std::size_t most_rivals = 8;
constexpr std::size_t words_of_a_note_in_capitals = 4;
constexpr std::uint32_t letter_bits = (1u << 26) - 1;

std::uint32_t letters_of(std::string_view key) {
  std::uint32_t letters = 0;
  for (const char c : key) letters |= 1u << (c - 'a');
  return letters;
}

// Cheaper than to count them all.
bool has_more_bits(std::uint32_t bits, int most) {
  for (int i = 0; i < most; ++i) bits &= bits - 1;
  return bits != 0;
}

bool is_plain(std::string_view key) {
  return std::all_of(key.begin(), key.end(), [](char c) { return c >= 'a' && c <= 'z'; });
}

}  // namespace

// Three rows of the table of edits between the beginnings of both words.
int edits_between(std::string_view a, std::string_view b, int most) noexcept {
  if (a.size() > longest_slip || b.size() > longest_slip) return most + 1;
  std::array<std::uint8_t, longest_slip + 1> rows[3];
  auto *before = &rows[0], *last = &rows[1], *row = &rows[2];
  for (std::size_t j = 0; j <= b.size(); ++j) (*last)[j] = static_cast<std::uint8_t>(j);
  for (std::size_t i = 1; i <= a.size(); ++i) {
    (*row)[0] = static_cast<std::uint8_t>(i);
    int least = static_cast<int>(i);
    for (std::size_t j = 1; j <= b.size(); ++j) {
      int edits = std::min((*last)[j - 1] + (a[i - 1] != b[j - 1]),
                           std::min((*last)[j], (*row)[j - 1]) + 1);
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
        edits = std::min(edits, (*before)[j - 2] + 1);
      (*row)[j] = static_cast<std::uint8_t>(edits);
      least = std::min(least, edits);
    }
    if (least > most) return most + 1;
    std::swap(before, last);
    std::swap(last, row);
  }
  return std::min<int>((*last)[b.size()], most + 1);
}

// The words at the least distance; more than `most_rivals` are as good as none.
struct Spelling::Nearest {
  std::array<const lexicon::Spelling*, most_rivals> all{};
  std::size_t count = 0;

  void add(const lexicon::Spelling& spelling) {
    if (count < most_rivals) all[count] = &spelling;
    ++count;
  }
};

Spelling::Spelling(const MatchIndex& index) : index_(index), ordinary_(index.lexicon()) {
  const auto spellings = index.lexicon().spellings;
  for (std::size_t length = 0; length < begins_.size(); ++length)
    begins_[length] = static_cast<std::uint32_t>(
        std::partition_point(spellings.begin(), spellings.end(), [&](const lexicon::Spelling& s) {
          return s.key.length < length;
        }) - spellings.begin());
}

Spelling::Nearest Spelling::nearest(std::string_view key) const {
  const CompiledLexicon& lexicon = index_.lexicon();
  const std::uint32_t letters = letters_of(key);
  const int size = static_cast<int>(key.size());
  int most = key.size() >= two_edits_from ? 2 : 1;
  Nearest nearest;
  for (const int longer : {0, -1, 1, -2, 2}) {
    const int apart = std::abs(longer);
    if (apart > most) continue;
    const auto length = static_cast<std::size_t>(size + longer);
    for (std::uint32_t i = begins_[length]; i < begins_[length + 1]; ++i) {
      const lexicon::Spelling& spelling = lexicon.spellings[i];
      // An edit changes the set of letters by two at most, one that adds or drops, by one.
      if (has_more_bits((spelling.letters ^ letters) & letter_bits, 2 * most - apart)) continue;
      const int edits = edits_between(key, lexicon.string(spelling.key), most);
      if (edits > most) continue;
      if (edits < most) nearest = {};
      most = edits;
      nearest.add(spelling);
    }
  }
  return nearest;
}

std::vector<std::string_view> Spelling::like(std::string_view key) const {
  std::vector<std::string_view> out;
  if (key.size() < shortest_slip || key.size() > longest_slip || !is_plain(key)) return out;
  const Nearest found = nearest(key);
  for (std::size_t i = 0; i < std::min(found.count, most_rivals); ++i)
    out.push_back(index_.lexicon().string(found.all[i]->key));
  return out;
}

// One note while it is looked through.
class Spelling::Note {
 public:
  Note(const Spelling& spelling, const text::TokenizedText& text,
       const std::vector<KnownWord>& known)
      : spelling_(spelling), lexicon_(spelling.index_.lexicon()), text_(text), known_(known) {}

  // A small plain word, no address or tag, or a capital word of a note in capitals.
  bool may_be_slip(std::uint32_t t) {
    const Token& token = text_.tokens[t];
    constexpr std::uint16_t odd = Token::accented | Token::ill_formed;
    if (token.kind != TokenKind::word || token.key_length < shortest_slip ||
        token.key_length > longest_slip || (token.flags & odd) != 0)
      return false;
    if (token.is(Token::capital) || token.is(Token::all_capitals)) {
      if (!token.is(Token::all_capitals) || !is_in_capitals()) return false;
    } else if (token.key_length != token.span.size()) {
      return false;
    }
    if (t > 0 && !token.is(Token::space_before) && is_mark(t - 1, "@#_")) return false;
    if (t + 1 < text_.tokens.size() && !text_.tokens[t + 1].is(Token::space_before) &&
        is_mark(t + 1, "@_"))
      return false;
    return is_plain(text_.key(token));
  }

  KnownWord meant(std::uint32_t t) const {
    const Nearest nearest = spelling_.nearest(text_.key(text_.tokens[t]));
    if (nearest.count == 0 || nearest.count > most_rivals) return {};
    const auto all = std::span(nearest.all).first(nearest.count);
    if (are_one(all)) return fits(t, *all[0]) ? of(*all[0]) : KnownWord{};
    // Of several, the one that goes with its neighbours: "green peper" is no paper.
    const lexicon::Spelling* joined = nullptr;
    for (const lexicon::Spelling* one : all) {
      if (!joins(t, *one)) continue;
      if (joined != nullptr) return {};
      joined = one;
    }
    return joined == nullptr ? KnownWord{} : of(*joined);
  }

 private:
  bool is_mark(std::uint32_t t, std::string_view marks) const {
    const std::string_view key = text_.key(text_.tokens[t]);
    return key.size() == 1 && marks.find(key) != std::string_view::npos;
  }

  bool is_in_capitals() {
    if (in_capitals_ == Answer::open) {
      std::size_t words = 0, capitals = 0;
      for (const Token& token : text_.tokens) {
        if (token.kind != TokenKind::word || token.key_length < 2) continue;
        ++words;
        capitals += token.is(Token::all_capitals) ? 1u : 0u;
      }
      in_capitals_ = words >= words_of_a_note_in_capitals && words == capitals ? Answer::yes : Answer::no;
    }
    return in_capitals_ == Answer::yes;
  }

  KnownWord of(const lexicon::Spelling& spelling) const {
    return spelling_.index_.known(spelling.word);
  }

  bool fits(std::uint32_t t, const lexicon::Spelling& one) const {
    return (one.letters & lexicon::Spelling::alone) != 0 || joins(t, one);
  }

  // Whether it goes on a form that the words before begin, or begins one that goes on.
  bool joins(std::uint32_t t, const lexicon::Spelling& one) const {
    if ((one.letters & lexicon::Spelling::in_form) == 0) return false;
    constexpr std::uint16_t breaks = Token::line_before | Token::sentence_start;
    constexpr std::uint32_t words_before = 3;
    for (std::uint32_t first = t; first > 0 && t - first < words_before;) {
      if ((text_.tokens[first].flags & breaks) != 0) break;
      --first;
      if (known_[first].id == 0) break;
      NodeId node = 0;
      std::uint32_t at = first;
      for (; at < t && (at == first || node != 0); ++at) node = lexicon_.step(node, known_[at].id);
      if (node != 0 && lexicon_.step(node, one.word) != 0) return true;
    }
    if (t + 1 == known_.size() || (text_.tokens[t + 1].flags & breaks) != 0) return false;
    const NodeId root = lexicon_.step(0, one.word);
    return root != 0 && known_[t + 1].id != 0 && lexicon_.step(root, known_[t + 1].id) != 0;
  }

  // One word, or words that lead to the same sense.
  bool are_one(std::span<const lexicon::Spelling* const> all) const {
    return std::all_of(all.begin() + 1, all.end(), [&](const lexicon::Spelling* one) {
      return one->word == all[0]->word || mean_the_same(*one, *all[0]);
    });
  }

  bool mean_the_same(const lexicon::Spelling& a, const lexicon::Spelling& b) const {
    if ((a.letters & b.letters & lexicon::Spelling::alone) == 0) return false;
    const auto ours = lexicon_.senses_of(lexicon_.step(0, a.word));
    const auto theirs = lexicon_.senses_of(lexicon_.step(0, b.word));
    return std::equal(ours.begin(), ours.end(), theirs.begin(), theirs.end(),
                      [](const lexicon::Sense& one, const lexicon::Sense& two) {
                        return one.kind == two.kind && one.index == two.index;
                      });
  }

  const Spelling& spelling_;
  const CompiledLexicon& lexicon_;
  const text::TokenizedText& text_;
  const std::vector<KnownWord>& known_;
  enum class Answer : std::uint8_t { open, yes, no };
  Answer in_capitals_ = Answer::open;
};

void Spelling::respell(const text::TokenizedText& text, std::vector<KnownWord>& known,
                       std::vector<std::uint32_t>& respelled) const {
  respelled.clear();
  if (ordinary_.empty()) return;
  Note note(*this, text, known);
  int attempts = 0;
  for (std::uint32_t t = 0; t < known.size(); ++t) {
    if (known[t].id != 0 || !note.may_be_slip(t)) continue;
    if (ordinary_.has(text.key(text.tokens[t]))) continue;
    if (attempts++ == most_attempts) return;
    const KnownWord word = note.meant(t);
    if (word.id == 0) continue;
    known[t] = word;
    respelled.push_back(t);
  }
}

void mark_respelled(const std::vector<std::uint32_t>& respelled, std::vector<Mention>& mentions) {
  const auto rests_on = [&](std::uint32_t first, std::uint32_t last) {
    const auto at = std::lower_bound(respelled.begin(), respelled.end(), first);
    return at != respelled.end() && *at < last;
  };
  for (Mention& mention : mentions)
    mention.respelled = rests_on(mention.first, mention.last) ||
                        rests_on(mention.shared_first, mention.shared_last);
  std::erase_if(mentions, [](const Mention& mention) {
    return mention.respelled && (mention.kinds & lexicon::claiming_kinds) ==
                                    kind_bit(SenseKind::name);
  });
}

}  // namespace racking::match
