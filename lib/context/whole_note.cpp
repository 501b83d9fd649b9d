#include "context/whole_note.hpp"

#include <algorithm>

namespace racking::context {

using lexicon::CompiledLexicon;
using lexicon::SenseKind;
using lexicon::Stop;
using lexicon::Tell;
using match::Mention;
using text::Token;
using text::TokenKind;

namespace {

constexpr std::array<std::string_view, language_count> language_ids = {"fr", "it", "es", "de", "pt"};
constexpr std::uint32_t bit(Tell tell) noexcept { return static_cast<std::uint32_t>(tell); }
constexpr std::uint32_t language_bits = (1u << language_count) - 1;

std::uint32_t tells_at(const match::MatchIndex& index, const Workspace& work, std::uint32_t token) {
  const match::KnownWord& word = work.known[token];
  return (word.kinds & match::MatchIndex::tells) != 0 ? index.tells_of(word.id) : 0;
}

// "Domaine de la Tour": small words inside a name speak for no language.
bool stands_in_name(const match::MatchIndex& index, const Workspace& work, std::uint32_t token) {
  const auto& tokens = work.text.tokens;
  while (++token < tokens.size() && tokens[token].kind == TokenKind::word) {
    if (tokens[token].is(Token::capital)) return !work.title_case;
    if ((tells_at(index, work, token) & language_bits) == 0) return false;
  }
  return false;
}

}  // namespace

void gather_tells(const match::MatchIndex& index, Workspace& work) {
  Tellings& found = work.tellings;
  found = {};
  for (std::uint32_t t = 0; t < work.token_count(); ++t) {
    const std::uint32_t kinds = work.known[t].kinds;
    if ((kinds & match::MatchIndex::tells) == 0) {
      found.english += (kinds & match::MatchIndex::kind_mask) != 0 ? 1u : 0u;
      continue;
    }
    const std::uint32_t tells = index.tells_of(work.known[t].id);
    found.all |= tells;
    for (unsigned frame = 0; frame < lexicon::weighed_frames; ++frame)
      found.weight += lexicon::weight_of(tells, frame);
    found.wine += (tells & bit(Tell::wine)) != 0 ? 1u : 0u;
    found.elsewhere += (tells & bit(Tell::no_wine)) != 0 ? 2u : (tells & bit(Tell::hardly_wine)) != 0 ? 1u : 0u;
    if ((tells & language_bits) == 0) {
      found.english += (kinds & match::MatchIndex::kind_mask) != 0 ? 1u : 0u;
    } else {
      // German writes every noun with a capital.
      const std::uint32_t those = stands_in_name(index, work, t) ? bit(Tell::german) : language_bits;
      for (std::size_t i = 0; i < language_count; ++i)
        found.languages[i] += (tells & those) >> i & 1;
    }
  }
}

std::string_view recognise_language(const Workspace& work) noexcept {
  const auto& counts = work.tellings.languages;
  const auto best = std::max_element(counts.begin(), counts.end());
  if (*best < 2 || *best <= work.tellings.english) return "en";
  if (std::count(counts.begin(), counts.end(), *best) > 1) return "und";
  return language_ids[static_cast<std::size_t>(best - counts.begin())];
}

void keep_shared(const match::MatchIndex& index, std::string_view language, Workspace& work) {
  const auto at = std::find(language_ids.begin(), language_ids.end(), language);
  const std::uint32_t shared =
      at == language_ids.end()
          ? 0
          : 1u << (lexicon::shared_shift + static_cast<unsigned>(at - language_ids.begin()));
  std::erase_if(work.mentions, [&](const Mention& mention) {
    if (mention.may_be(SenseKind::name)) return false;
    for (std::uint32_t t = mention.first; t < mention.last; ++t)
      if ((tells_at(index, work, t) & shared) == 0) return true;
    return mention.first == mention.last;
  });
  work.respelled.clear();
}

bool set_aside_no_note(const CompiledLexicon& lexicon, Workspace& work) {
  constexpr std::uint32_t enough = 4, sure = 3;
  const std::uint32_t elsewhere = work.tellings.elsewhere;
  if (elsewhere < enough) return false;
  std::uint32_t wine = 2 * work.tellings.wine, aromas = 0;
  for (const CueUse& use : work.cues)
    wine += lexicon.cues[use.record].phase != lexicon::unset ? sure : 0;
  for (const Mention& mention : work.mentions) {
    aromas += mention.is(SenseKind::descriptor) ? 1u : 0u;
    wine += mention.is(SenseKind::phrase) || mention.is(SenseKind::name) ? sure : 0;
  }
  wine += static_cast<std::uint32_t>(work.structures.size());   // "warm", "dry": of many things
  // To lose a note is worse than to read a recipe.
  if (aromas >= elsewhere || (wine >= sure && 4 * wine > elsewhere)) return false;
  std::fill(work.frames.begin(), work.frames.end(), Frame::other);
  return true;
}

// ---- several wines ----

namespace {

class Wines {
 public:
  Wines(const match::MatchIndex& index, std::string_view text, const Workspace& work)
      : index_(index), lexicon_(index.lexicon()), text_(text), work_(work) {}

  void find(std::vector<std::uint32_t>& begins) {
    begins.clear();
    for (std::uint32_t t = 0; t < work_.token_count(); ++t) {
      if (!may_open(t)) continue;
      if (const std::uint32_t end = label_end(t); end != t && begin_of_own(t, end, begins))
        begins.push_back(t);
    }
    // Whatever stands before the first is no note yet, and each tells something.
    if (begins.size() < 2 || told(0, begins.front()) != 0) return begins.clear();
    for (std::size_t i = 0; i < begins.size(); ++i) {
      const std::uint32_t end = i + 1 < begins.size() ? begins[i + 1] : work_.token_count();
      if (told(begins[i], end) < (numbered_ ? 2u : 1u)) return begins.clear();
    }
  }

 private:
  const Token& token(std::uint32_t t) const { return work_.text.tokens[t]; }
  char mark(std::uint32_t t) const {
    return t < work_.token_count() && token(t).kind != TokenKind::word
               ? text_[token(t).span.begin] : '\0';
  }
  std::uint32_t tells(std::uint32_t t) const {
    return t < work_.token_count() ? tells_at(index_, work_, t) : 0;
  }

  bool may_open(std::uint32_t t) const {
    if (token(t).kind != TokenKind::word && token(t).kind != TokenKind::number) return mark(t) == '#';
    // A mark that ends a clause is itself the stop; a full stop is before the word after it.
    return t == 0 || work_.stop_at(t, bits(Stop::clause)) ||
           (token(t - 1).kind != TokenKind::word && token(t - 1).kind != TokenKind::number &&
            (work_.stops[t - 1] & bits(Stop::clause)) != 0);
  }

  static bool closes(char mark) { return mark == ':' || mark == '=' || mark == '-' || mark == '('; }

  bool is_number(std::uint32_t t) const {
    return t < work_.token_count() && (token(t).kind == TokenKind::number ||
                                       (token(t).kind == TokenKind::word && token(t).key_length == 1));
  }
  bool is_year(std::uint32_t t) const {
    return t < work_.token_count() && token(t).kind == TokenKind::number &&
           work_.known[t].id != 0 && work_.known[t].id == index_.year().id;
  }

  // The token after a label that a wine of several may bear; `t` itself if there is none.
  std::uint32_t label_end(std::uint32_t t) {
    if (const std::uint32_t end = enumerator_end(t); end != t) return end;
    if (const std::uint32_t end = vessel_end(t); end != t) return end;
    return name_end(t);
  }

  // "1.", "#2", "b)", "A:"
  std::uint32_t enumerator_end(std::uint32_t t) {
    const bool hash = mark(t) == '#';
    const std::uint32_t number = hash ? t + 1 : t;
    if (!is_number(number) || is_year(number)) return t;
    if (token(number).kind == TokenKind::number && token(number).span.size() > 2) return t;
    // Letters go on from a, or i: "N. … P. …" are parts of one note.
    if (token(number).kind == TokenKind::word && !numbered_) {
      const std::string_view letter = work_.text.key(token(number));
      if (letter != "a" && letter != "i") return t;
    }
    const char after = mark(number + 1);
    if (!hash && after != '.' && after != ')' && after != ':') return t;
    numbered_ = true;
    return hash ? number + 1 : number + 2;
  }

  // "wine two:", "second glass -", "White:"
  std::uint32_t vessel_end(std::uint32_t t) const {
    const bool vessel = (tells(t) & bit(Tell::vessel)) != 0;
    const bool ordinal = (tells(t) & bit(Tell::ordinal)) != 0;
    std::uint32_t end = t;
    if (vessel && (is_number(t + 1) || (tells(t + 1) & bit(Tell::ordinal)) != 0)) end = t + 2;
    else if (vessel && mark(t + 1) == '.' && is_number(t + 2)) end = t + 3;   // "no. 2"
    else if (ordinal && (tells(t + 1) & bit(Tell::vessel)) != 0) end = t + 2;
    else if (vessel) end = t + 1;
    if (end == t) return t;
    if (vessel && end == t + 1) return mark(end) == ':' ? end : t;
    const bool line = end < work_.token_count() && token(end).is(Token::line_before);
    return closes(mark(end)) || line ? end : t;
  }

  // "Ashlock Vale 2015:", "2012 plum": capitals that tell nothing, and a year.
  std::uint32_t name_end(std::uint32_t t) const {
    constexpr std::uint32_t longest = 8;
    for (std::uint32_t at = t; at < work_.token_count() && at < t + longest; ++at) {
      if (is_year(at)) return at + 1;
      if (token(at).kind != TokenKind::word || !token(at).is(Token::capital)) return t;
      if (work_.mention_at[at] != 0 && at == t && !work_.title_case &&
          work_.mentions[work_.mention_at[at] - 1].is(SenseKind::descriptor))
        return t;
    }
    return t;
  }

  // No section of one note ("1. Nose"), nor a label that stood before.
  bool begin_of_own(std::uint32_t t, std::uint32_t end, const std::vector<std::uint32_t>& begins) const {
    const bool enumerated = mark(end - 1) != '\0' || mark(t) == '#';
    for (const CueUse& use : work_.cues)
      if (enumerated && use.first >= t && use.first <= end + 1 &&
          lexicon_.cues[use.record].phase != lexicon::unset)
        return false;
    const auto label = [&](std::uint32_t first, std::uint32_t last) {
      return text_.substr(token(first).span.begin, token(last - 1).span.end - token(first).span.begin);
    };
    const std::string_view own = label(t, end);
    for (const std::uint32_t begin : begins)
      if (label(begin, std::min(begin + (end - t), work_.token_count())) == own) return false;
    return true;
  }

  // How many things between two tokens are told of a wine.
  std::uint32_t told(std::uint32_t begin, std::uint32_t end) const {
    std::uint32_t count = 0;
    for (std::uint32_t t = begin; t < end; ++t) {
      const std::uint32_t at = work_.mention_at[t];
      if (at == 0 || work_.mentions[at - 1].first != t) continue;
      const Mention& mention = work_.mentions[at - 1];
      count += mention.is(SenseKind::descriptor) || mention.is(SenseKind::phrase) ||
                       mention.is(SenseKind::level) || mention.is(SenseKind::fault)
                   ? 1u : 0u;
    }
    return count;
  }

  const match::MatchIndex& index_;
  const CompiledLexicon& lexicon_;
  std::string_view text_;
  const Workspace& work_;
  bool numbered_ = false;   // a bare number or letter is weak
};

}  // namespace

void find_wines(const match::MatchIndex& index, std::string_view text, const Workspace& work,
                std::vector<std::uint32_t>& begins) {
  Wines(index, text, work).find(begins);
}

}  // namespace racking::context
