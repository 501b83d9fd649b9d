#include "context/several_wines.hpp"

#include <algorithm>
#include <optional>

namespace racking::context {

using lexicon::CompiledLexicon;
using lexicon::SenseKind;
using lexicon::Stop;
using lexicon::Tell;
using lexicon::Topic;
using match::Mention;
using text::Token;
using text::TokenKind;

namespace {

// What is asked of a text by all that look for labels in it.
class Page {
 public:
  Page(const match::MatchIndex& index, std::string_view text, const Workspace& work)
      : index_(index), text_(text), work_(work) {}

  std::uint32_t count() const { return work_.token_count(); }
  const Workspace& work() const { return work_; }
  const CompiledLexicon& lexicon() const { return index_.lexicon(); }
  const Token& token(std::uint32_t t) const { return work_.text.tokens[t]; }
  std::string_view key(std::uint32_t t) const { return work_.text.key(token(t)); }
  std::string_view words(std::uint32_t first, std::uint32_t last) const {
    return text_.substr(token(first).span.begin, token(last - 1).span.end - token(first).span.begin);
  }
  bool is_word(std::uint32_t t) const { return t < count() && token(t).kind == TokenKind::word; }
  bool is_figure(std::uint32_t t) const { return t < count() && token(t).kind == TokenKind::number; }
  char mark(std::uint32_t t) const {
    return t < count() && !is_word(t) && !is_figure(t) ? text_[token(t).span.begin] : '\0';
  }
  bool tells(std::uint32_t t, Tell tell) const {
    return t < count() && (index_.tells_of(work_.known[t]) & bit(tell)) != 0;
  }
  bool speaks_of(std::uint32_t t, Topic topic) const {
    if (t >= count()) return false;
    const std::uint32_t tells = index_.tells_of(work_.known[t]);
    return lexicon::has_topic(tells) && lexicon::topic_of(tells) == topic;
  }
  bool is_class(std::uint32_t t, std::uint16_t classes) const {
    return t < count() && (index_.node(work_.known[t].root).stops & classes) != 0;
  }
  bool is_year(std::uint32_t t) const {
    return is_figure(t) && work_.known[t].id != 0 && work_.known[t].id == index_.year().id;
  }
  bool line_begins(std::uint32_t t) const {
    return t == 0 || (t < count() && token(t).is(Token::line_before));
  }
  const Mention* mention(std::uint32_t t) const { return work_.mention(t); }
  bool smells(std::uint32_t t) const {
    const Mention* at = mention(t);
    return at != nullptr && at->is(SenseKind::descriptor);
  }

  // Whether a sentence, a line or a clause begins here; behind a bullet, too.
  bool opens(std::uint32_t t) const {
    if (t == 0 || work_.stop_at(t, bits(Stop::clause))) return true;
    const bool after_mark = !is_word(t - 1) && !is_figure(t - 1);
    // A mark that ends a clause is itself the stop; a full stop is before the word after it.
    if (after_mark && (work_.stops[t - 1] & bits(Stop::clause)) != 0) return true;
    return after_mark && is_bullet(t - 1);
  }
  bool is_listed(std::uint32_t t) const { return t != 0 && mark(t - 1) != '\0' && is_bullet(t - 1); }
  bool opens_item(std::uint32_t t) const {
    return opens(t) || mark(t - 1) == ',' || mark(t - 1) == '/' || mark(t - 1) == ':';
  }

  // How many things between two tokens are told of a wine; of this one, where asides are left out.
  std::uint32_t told(std::uint32_t begin, std::uint32_t end, bool asides = true) const {
    std::uint32_t count = 0;
    for (std::uint32_t t = begin; t < end; ++t) {
      const Mention* at = mention(t);
      if (at == nullptr || at->first != t) continue;
      if (!asides && work_.frames[t] == Frame::other) continue;
      count += at->is(SenseKind::descriptor) || at->is(SenseKind::phrase) ||
                       at->is(SenseKind::level) || at->is(SenseKind::fault)
                   ? 1u : 0u;
    }
    return count;
  }
  // "second", "left", "another", "younger"
  bool is_one_of_several(std::uint32_t t) const {
    return tells(t, Tell::ordinal) || speaks_of(t, Topic::pronoun) || speaks_of(t, Topic::compared);
  }
  bool any(std::uint32_t begin, std::uint32_t end, Topic topic) const {
    for (std::uint32_t t = begin; t < end; ++t)
      if (speaks_of(t, topic) && !is_class(t, bits(Stop::preposition))) return true;
    return false;
  }

 private:
  // "-", "*", "•" at the head of a line, be they doubled ("**Wine 1**").
  bool is_bullet(std::uint32_t t) const {
    while (!line_begins(t) && t != 0 && mark(t) != '\0' && mark(t) == mark(t - 1)) --t;
    if (line_begins(t)) return mark(t) != '\0' && mark(t) != '#';
    return mark(t) == '*';
  }

  const match::MatchIndex& index_;
  std::string_view text_;
  const Workspace& work_;
};

bool closes(char mark) { return mark == ':' || mark == '=' || mark == '-' || mark == '('; }

std::uint32_t roman(std::string_view key) {
  constexpr std::string_view numerals[] = {"i", "ii", "iii", "iv", "v", "vi", "vii", "viii", "ix", "x"};
  for (std::uint32_t i = 0; i < std::size(numerals); ++i)
    if (key == numerals[i]) return i + 1;
  return 0;
}

// What counts wines: "2", "b", "ii", "w2". Letters and figures never go on from each other.
struct Numeral {
  enum Kind : std::uint8_t { figure, letter, roman_figure, coded } kind = figure;
  std::uint32_t value = 0;

  bool follows(const Numeral& before) const {
    return kind == before.kind && value == before.value + 1;
  }
};

std::optional<Numeral> numeral_at(const Page& page, std::uint32_t t, std::uint32_t expected) {
  if (page.is_figure(t)) {
    const std::string_view key = page.key(t);
    if (key.size() > 2 || page.is_year(t)) return std::nullopt;
    std::uint32_t value = 0;
    for (const char c : key) {
      if (c < '0' || c > '9') return std::nullopt;
      value = 10 * value + static_cast<std::uint32_t>(c - '0');
    }
    return Numeral{Numeral::figure, value};
  }
  if (!page.is_word(t)) return std::nullopt;
  const std::string_view key = page.key(t);
  // "i" counts as one, and as the ninth letter where that is due.
  if (const std::uint32_t value = roman(key); value != 0 && value == expected)
    return Numeral{Numeral::roman_figure, value};
  if (key[0] < 'a' || key[0] > 'z') return std::nullopt;
  const bool split = key.size() == 1 && page.is_figure(t + 1) && !page.token(t + 1).is(Token::space_before);
  const std::string_view figure = split ? page.key(t + 1) : key.substr(1);
  if (figure.size() == 1 && figure[0] >= '1' && figure[0] <= '9')
    return Numeral{Numeral::coded, static_cast<std::uint32_t>(key[0] * 16 + figure[0] - '0')};
  if (key.size() != 1 || split) return std::nullopt;
  return Numeral{Numeral::letter, static_cast<std::uint32_t>(key[0] - 'a' + 1)};
}

class Wines {
 public:
  Wines(const match::MatchIndex& index, std::string_view text, const Workspace& work)
      : page_(index, text, work) {}

  void find(std::vector<std::uint32_t>& begins) {
    begins.clear();
    if (page_.work().no_note) return;
    const std::uint32_t tells = page_.work().tellings.all;
    find_labels(begins);
    if (begins.empty() && (tells & bit(Tell::vessel)) != 0) find_vessels(begins);
    if (begins.empty()) find_count(begins);
    if (begins.empty() && page_.work().tellings.one_of_several) find_places(begins);
    if (begins.empty()) find_names(begins);
  }

 private:
  using Begins = std::vector<std::uint32_t>;

  // Whatever stands before the first is no note yet, and each tells something: `least` things, and
  // in all half as much again where labels are weak. Where the text turns to a wine of its own
  // ("wine two, in front of me"), the others are asides of one note.
  void keep_if_told(Begins& begins, std::uint32_t least, bool weak, bool firm = false) const {
    const bool asides = firm || !turns_home();
    if (begins.size() < 2 || page_.told(0, begins.front()) != 0) return begins.clear();
    std::uint32_t all = 0;
    for (std::size_t i = 0; i < begins.size(); ++i) {
      const std::uint32_t end = i + 1 < begins.size() ? begins[i + 1] : page_.count();
      const std::uint32_t told = page_.told(begins[i], end, asides);
      if (told < least) return begins.clear();
      all += told;
    }
    if (weak && 2 * all < 3 * begins.size()) begins.clear();
  }

  bool turns_home() const {
    const auto& stops = page_.work().stops;
    return std::any_of(stops.begin(), stops.end(),
                       [](std::uint16_t stop) { return (stop & bits(Stop::home)) != 0; });
  }

  // ---- labels that stand alone ----

  void find_labels(Begins& begins) {
    for (std::uint32_t t = 0; t < page_.count(); ++t) {
      if (page_.mark(t) != '#' && (page_.mark(t) != '\0' || !page_.opens(t))) continue;
      if (const std::uint32_t end = label_end(t); end != t && begin_of_own(t, end, begins))
        begins.push_back(t);
    }
    keep_if_told(begins, numbered_ ? 2u : 1u, false, true);
  }

  // The token after a label that a wine of several may bear; `t` itself if there is none.
  std::uint32_t label_end(std::uint32_t t) {
    if (const std::uint32_t end = enumerator_end(t); end != t) return end;
    if (const std::uint32_t end = vessel_end(t); end != t) return end;
    return name_end(t);
  }

  // "1.", "#2", "b)", "A:"
  std::uint32_t enumerator_end(std::uint32_t t) {
    const bool hash = page_.mark(t) == '#';
    const std::uint32_t number = hash ? t + 1 : t;
    const auto numeral = numeral_at(page_, number, last_ + 1);
    if (!numeral || numeral->kind == Numeral::coded) return t;
    // Letters go on from a, or i: "N. … P. …" are parts of one note.
    if (page_.is_word(number) && !numbered_ && numeral->value != 1) return t;
    const char after = page_.mark(number + 1);
    if (!hash && after != '.' && after != ')' && after != ':') return t;
    numbered_ = true;
    last_ = numeral->value;
    return hash ? number + 1 : number + 2;
  }

  bool is_numeral(std::uint32_t t) const {
    return page_.is_figure(t) || (page_.is_word(t) && (page_.key(t).size() == 1 || roman(page_.key(t)) != 0));
  }

  // The token after "wine two", "no. 2", "second glass"; `t` if it is none.
  std::uint32_t counted_end(std::uint32_t t) const {
    if (page_.tells(t, Tell::vessel)) {
      std::uint32_t at = t + 1;
      if (page_.tells(at, Tell::vessel)) ++at;                                // "wine no. 2"
      if (page_.mark(at) == '.' && is_numeral(at + 1)) ++at;
      if (page_.mark(at) == '#') ++at;
      return is_numeral(at) || page_.tells(at, Tell::ordinal) ? at + 1 : t;
    }
    return page_.is_one_of_several(t) && page_.tells(t + 1, Tell::vessel) ? t + 2 : t;
  }

  // "wine two:", "second glass -", "White:", "Mark's wine:", "top shelf:"
  std::uint32_t vessel_end(std::uint32_t t) const {
    if (const std::uint32_t end = counted_end(t); end != t)
      return closes(page_.mark(end)) || page_.line_begins(end) ? end : t;
    if (page_.tells(t, Tell::vessel)) {
      const std::uint32_t end = page_.tells(t + 1, Tell::vessel) ? t + 2 : t + 1;   // "half-bottle"
      return page_.mark(end) == ':' ? end : t;
    }
    if (page_.is_word(t) && page_.mark(t + 2) == ':') {
      const bool own = page_.key(t).ends_with("'s") && page_.tells(t + 1, Tell::vessel);
      const bool placed = page_.is_one_of_several(t) && page_.is_word(t + 1) &&
                          !page_.speaks_of(t + 1, Topic::portion) && !page_.smells(t + 1);
      if (own || placed) return t + 2;
    }
    return t;
  }

  // "Ashlock Vale 2015:", "2012 plum", "Barolo:": capitals that tell nothing, and a year or a colon
  // behind a grape's or a place's name.
  std::uint32_t name_end(std::uint32_t t) const {
    constexpr std::uint32_t longest = 9;
    bool named = false;
    for (std::uint32_t at = t; at < page_.count() && at < t + longest; ++at) {
      if (page_.is_year(at) || (at != t && page_.speaks_of(at, Topic::undated))) return at + 1;
      if (at != t && page_.line_begins(at)) return t;
      const char mark = page_.mark(at);
      if (at != t && (mark == ':' || mark == '=') && named) return at;
      if (mark == ',' && named && page_.is_listed(t)) return at;
      if (at != t && (mark == '&' || mark == ',')) continue;
      if (!page_.is_word(at) || !page_.token(at).is(Token::capital)) return t;
      if (at == t && !page_.work().title_case && page_.smells(at)) return t;
      const Mention* mention = page_.mention(at);
      named |= mention != nullptr && mention->may_be(SenseKind::name);
    }
    return t;
  }

  // No section of one note ("1. Nose"), nor a label that stood before.
  bool begin_of_own(std::uint32_t t, std::uint32_t end, const Begins& begins) const {
    const bool enumerated = page_.mark(end - 1) != '\0' || page_.mark(t) == '#';
    return !(enumerated && heads_section(t, end)) && is_new(t, end, begins);
  }
  bool heads_section(std::uint32_t t, std::uint32_t end) const {
    return std::any_of(page_.work().cues.begin(), page_.work().cues.end(), [&](const CueUse& use) {
      return use.first >= t && use.first <= end + 1 &&
             page_.lexicon().cues[use.record].phase != lexicon::unset;
    });
  }
  bool is_new(std::uint32_t t, std::uint32_t end, const Begins& begins) const {
    const std::string_view own = page_.words(t, end);
    return std::none_of(begins.begin(), begins.end(), [&](std::uint32_t begin) {
      return page_.words(begin, std::min(begin + (end - t), page_.count())) == own;
    });
  }

  // ---- "wine one … wine two …", "left glass … right glass …", wherever they stand ----

  void find_vessels(Begins& begins) const {
    for (std::uint32_t t = 0; t < page_.count(); ++t) {
      const std::uint32_t end = counted_end(t);
      if (end == t || (t != 0 && is_compared(t))) continue;
      // "Bottle 3 of 6" counts no wines.
      if (page_.speaks_of(end, Topic::portion)) continue;
      if (is_new(t, end, begins)) begins.push_back(t);
      t = end - 1;
    }
    keep_if_told(begins, 1, false);
  }

  // "blended with tank 4": but "in glass 1" tells what is in it.
  bool is_compared(std::uint32_t t) const {
    return page_.is_class(t - 1, bits(Stop::preposition)) && !page_.is_class(t - 1, bits(Stop::place));
  }

  // ---- "A … B … C …", "1, … 2, …", "W1 … W2 …" ----

  void find_count(Begins& begins) const {
    std::optional<Numeral> last;
    for (std::uint32_t t = 0; t < page_.count(); ++t) {
      constexpr std::size_t longest = 4;   // "viii"
      if (page_.token(t).span.size() > longest) continue;
      const bool hash = page_.mark(t) == '#';
      if (!hash && (page_.mark(t) != '\0' || !page_.opens_item(t))) continue;
      const std::uint32_t at = hash ? t + 1 : t;
      const auto numeral = numeral_at(page_, at, last ? last->value + 1 : 1);
      if (!numeral || (numeral->kind == Numeral::letter && !page_.token(at).is(Token::capital))) continue;
      const bool first = numeral->kind == Numeral::coded ? numeral->value % 16 == 1 : numeral->value == 1;
      if (last ? !numeral->follows(*last) : !first && !hash && !page_.line_begins(t)) continue;
      if (heads_section(at + 1, at + 1)) return begins.clear();
      last = numeral;
      begins.push_back(t);
    }
    const bool announced = !begins.empty() && page_.any(0, begins.front(), Topic::several);
    keep_if_told(begins, 1, !announced);
  }

  // ---- "the first was … the second …", "one smells of … the other …" ----

  void find_places(Begins& begins) const {
    for (std::uint32_t t = 0; t < page_.count(); ++t) {
      if (!page_.is_one_of_several(t)) continue;
      const std::uint32_t begin = phrase_begin(t);
      if (begin == none || !stands_for_wine(begin, t)) continue;
      if (is_new(t, t + 1, heads_)) {
        heads_.push_back(t);
        begins.push_back(begin);
      }
    }
    // What one wine has two of: "two halves. The first …".
    if (!begins.empty() && page_.any(0, begins.front(), Topic::portion)) begins.clear();
    keep_if_told(begins, 1, false);
  }

  // Where the phrase of the ordinal begins ("in the |first|"), if it opens a clause.
  std::uint32_t phrase_begin(std::uint32_t t) const {
    constexpr std::uint16_t small = bits(Stop::preposition) | bits(Stop::determiner) |
                                    bits(Stop::conjunction) | bits(Stop::contrast) |
                                    bits(Stop::turn) | bits(Stop::place);
    for (std::uint32_t begin = t, steps = 0; steps < 4; --begin, ++steps) {
      if (page_.opens_item(begin)) return begin;
      if (!page_.is_class(begin - 1, small)) return none;
    }
    return none;
  }

  // "The first was", "one with", "the younger one", "the left glass": no "first sip", "one of us".
  bool stands_for_wine(std::uint32_t begin, std::uint32_t t) const {
    constexpr std::uint16_t joint = bits(Stop::verb) | bits(Stop::copula) |
                                    bits(Stop::preposition) | bits(Stop::phase);
    std::uint32_t next = t + 1;
    const bool held = page_.tells(next, Tell::vessel) || page_.speaks_of(next, Topic::pronoun);
    if (held) ++next;
    if (page_.speaks_of(next, Topic::portion)) return false;
    if (held || (t != 0 && page_.is_class(begin, bits(Stop::place)))) return true;
    const bool pronoun = page_.speaks_of(t, Topic::pronoun);
    if (pronoun != (begin == t)) return false;   // no "this one", no bare "first"
    return page_.is_class(next, joint) || closes(page_.mark(next)) || page_.mark(next) == ',';
  }

  // ---- "a Picpoul with …, a Malbec with …", where several are announced ----

  void find_names(Begins& begins) const {
    if (!page_.work().tellings.several) return;
    for (const std::uint32_t at : page_.work().lists.decided) {
      const Mention& mention = page_.work().mentions[at];
      if (!mention.is(SenseKind::name) || mention.first == 0) continue;
      if (page_.lexicon().names[mention.index].kind > static_cast<std::uint8_t>(NameKind::place)) continue;
      if (!page_.is_class(mention.first - 1, bits(Stop::determiner))) continue;
      if (is_new(mention.first, mention.last, heads_)) {
        heads_.push_back(mention.first);
        begins.push_back(mention.first);
      }
    }
    if (!begins.empty() && !page_.any(0, begins.front(), Topic::several)) begins.clear();
    keep_if_told(begins, 1, false);
  }

  static constexpr std::uint32_t none = 0xffffffff;

  Page page_;
  bool numbered_ = false;   // a bare number or letter is weak
  std::uint32_t last_ = 0;  // its value
  mutable Begins heads_;    // the words that tell the labels apart; empty, and so free, for most
};

}  // namespace

void find_wines(const match::MatchIndex& index, std::string_view text, const Workspace& work,
                std::vector<std::uint32_t>& begins) {
  Wines(index, text, work).find(begins);
}

}  // namespace racking::context
