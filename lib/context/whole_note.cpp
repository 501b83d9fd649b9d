#include "context/whole_note.hpp"

#include <algorithm>
#include <array>
#include <numeric>

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
constexpr std::uint32_t language_bits = (1u << language_count) - 1;

// "Domaine de la Tour": small words inside a name speak for no language.
bool stands_in_name(const match::MatchIndex& index, const Workspace& work, std::uint32_t token) {
  const auto& tokens = work.text.tokens;
  while (++token < tokens.size() && tokens[token].kind == TokenKind::word) {
    if (tokens[token].is(Token::capital)) return !work.title_case;
    if ((index.tells_of(work.known[token]) & language_bits) == 0) return false;
  }
  return false;
}

// "225 g butter", "12 x", on a line of its own: no year, and no number of an item ("1.").
bool begins_row(const match::MatchIndex& index, const Workspace& work, std::uint32_t token) {
  const auto& tokens = work.text.tokens;
  constexpr std::uint32_t most_digits = 3;
  return tokens[token].is(Token::line_before) && tokens[token].span.size() <= most_digits &&
         token + 1 < tokens.size() &&
         tokens[token + 1].kind == TokenKind::word && !tokens[token + 1].is(Token::line_before) &&
         work.known[token].id != index.year().id;
}

}  // namespace

void gather_tells(const match::MatchIndex& index, Workspace& work) {
  Tellings& found = work.tellings;
  found = {};
  const auto& tokens = work.text.tokens;
  for (std::uint32_t t = 0; t < work.token_count(); ++t) {
    if (tokens[t].kind == TokenKind::number) found.rows += begins_row(index, work, t) ? 1u : 0u;
    const std::uint32_t kinds = work.known[t].kinds;
    if ((kinds & match::MatchIndex::tells) == 0) {
      found.english += (kinds & match::MatchIndex::kind_mask) != 0 ? 1u : 0u;
      continue;
    }
    const std::uint32_t tells = index.tells_of(work.known[t]);
    found.all |= tells;
    for (unsigned frame = 0; frame < lexicon::weighed_frames; ++frame)
      found.weight += lexicon::weight_of(tells, frame);
    found.wine += (tells & bit(Tell::wine)) != 0 ? lexicon::weight_of_whole(tells) : 0u;
    found.amounts +=
        (tells & bit(Tell::amount)) != 0 && t != 0 && tokens[t - 1].kind == TokenKind::number ? 1u : 0u;
    if (lexicon::has_topic(tells)) {
      const auto topic = static_cast<std::size_t>(lexicon::topic_of(tells));
      if (topic < found.topics.size()) found.topics[topic] += lexicon::weight_of_whole(tells);
      found.several = found.several || lexicon::topic_of(tells) == lexicon::Topic::several;
      found.one_of_several = found.one_of_several || lexicon::topic_of(tells) >= lexicon::Topic::pronoun;
    }
    found.one_of_several = found.one_of_several || (tells & bit(Tell::ordinal)) != 0;
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
      if ((index.tells_of(work.known[t]) & shared) == 0) return true;
    return mention.first == mention.last;
  });
  work.respelled.clear();
}

namespace {

// Scents and other drinks are told by their smells as a wine is.
constexpr bool is_smelled(lexicon::Topic topic) noexcept {
  return topic == lexicon::Topic::scent || topic == lexicon::Topic::drink;
}

constexpr std::uint32_t sure = 3;   // what hardly stands but where a wine is spoken of

// How strongly the text speaks of something else. Words of one topic support each other: those of
// the others count a third.
std::uint32_t weight_elsewhere(Tellings& found) {
  constexpr std::uint32_t most_counted = 3;
  const auto best = std::max_element(found.topics.begin(), found.topics.end());
  const std::uint32_t all = std::accumulate(found.topics.begin(), found.topics.end(), 0u);
  found.topic = static_cast<lexicon::Topic>(best - found.topics.begin());
  return *best + (all - *best + 1) / 3 + std::min(found.amounts, most_counted) +
         std::min(found.rows, most_counted);
}

// What is served with the wine speaks for no recipe ("lovely with sausages and mash"). A smell
// speaks but once, however many words it has ("eau de toilette"), and for a scent or a drink only
// beside words that are no smell.
void leave_out(const match::MatchIndex& index, bool dishes, Workspace& work) {
  constexpr std::uint32_t beside = 3;
  auto& topics = work.tellings.topics;
  std::array<std::uint32_t, lexicon::topic_count> smells{};
  const Mention* counted = nullptr;
  for (std::uint32_t t = 0; t < work.token_count(); ++t) {
    const Mention* mention = work.mention(t);
    const bool smell = mention != nullptr && mention->is(SenseKind::descriptor);
    const bool dish = dishes && work.frames[t] == Frame::pairing;
    if (!smell && !dish) continue;
    const std::uint32_t tells = index.tells_of(work.known[t]);
    if (!lexicon::has_topic(tells) || lexicon::topic_of(tells) > lexicon::Topic::elsewhere) continue;
    const auto topic = static_cast<std::size_t>(lexicon::topic_of(tells));
    const bool again = dish || mention == counted;
    if (again) topics[topic] -= lexicon::weight_of_whole(tells);
    else smells[topic] += lexicon::weight_of_whole(tells), counted = mention;
  }
  for (std::size_t topic = 0; topic < topics.size(); ++topic)
    if (is_smelled(static_cast<lexicon::Topic>(topic)) && topics[topic] < smells[topic] + beside)
      topics[topic] -= smells[topic];
}

// "Rain all day. Plum, cedar.": a smell that stands between two marks is found in a wine, where it
// is no item of a list that bills, menus and gardeners write too, and no refrain ("honey, honey").
std::uint32_t smells_alone(const Workspace& work) {
  const auto& tokens = work.text.tokens;
  const auto parts = [&](std::uint32_t t) {
    return t >= work.token_count() || tokens[t].is(Token::line_before);
  };
  const auto is_mark = [&](std::uint32_t t) { return tokens[t].kind == TokenKind::punctuation; };
  std::uint32_t count = 0;
  lexicon::NodeId last = 0;
  for (const Mention& mention : work.mentions) {
    if (!mention.is(SenseKind::descriptor)) continue;
    if (mention.node == last) return 0;
    last = mention.node;
    const bool begins = mention.first == 0 || parts(mention.first) || is_mark(mention.first - 1);
    count += begins && (parts(mention.last) || is_mark(mention.last)) ? 1u : 0u;
  }
  return count;
}

constexpr bool lists_things(lexicon::Topic topic) noexcept {
  using lexicon::Topic;
  return topic == Topic::kitchen || topic == Topic::trade || topic == Topic::scent ||
         topic == Topic::drink || topic == Topic::home || topic == Topic::code;
}

std::uint32_t weight_of_wine(const CompiledLexicon& lexicon, const Workspace& work) {
  std::uint32_t wine = work.tellings.wine;
  for (const CueUse& use : work.cues)
    wine += lexicon.cues[use.record].phase != lexicon::unset ? sure : 0;
  for (const Mention& mention : work.mentions) {
    if (mention.is(SenseKind::phrase)) wine += sure;
    // Tanks, corks and casks are of other trades too.
    if (mention.is(SenseKind::name))
      wine += lexicon.names[mention.index].kind <= static_cast<std::uint8_t>(NameKind::place) ? sure : 1;
  }
  for (const StructureUse& use : work.structures)   // "warm", "dry": of many things
    wine += use.anchor_first != use.anchor_last ? sure : 1;
  if (!lists_things(work.tellings.topic)) wine += 2 * smells_alone(work);
  return wine;
}

}  // namespace

bool set_aside_no_note(const match::MatchIndex& index, Workspace& work) {
  const CompiledLexicon& lexicon = index.lexicon();
  // Quarters, tried on the corpus: to lose a note is worse than to read a recipe, so the words of
  // other things must outweigh all that a note might have by a good deal.
  constexpr std::uint32_t per_elsewhere = 4, per_wine = 3, per_aroma = 1, lead = 16;
  if (per_elsewhere * weight_elsewhere(work.tellings) < lead) return false;
  leave_out(index, weight_of_wine(lexicon, work) != 0, work);
  const std::uint32_t elsewhere = per_elsewhere * weight_elsewhere(work.tellings);
  if (elsewhere < lead) return false;
  const auto aromas = static_cast<std::uint32_t>(std::count_if(
      work.mentions.begin(), work.mentions.end(),
      [](const Mention& mention) { return mention.is(SenseKind::descriptor); }));
  const std::uint32_t kept = per_wine * weight_of_wine(lexicon, work) +
                             (is_smelled(work.tellings.topic) ? 0 : per_aroma * aromas);
  if (elsewhere < kept + lead) return false;
  std::fill(work.frames.begin(), work.frames.end(), Frame::other);
  return true;
}

std::string why_no_note(const match::MatchIndex& index, std::string_view text, const Workspace& work) {
  constexpr std::array<std::string_view, lexicon::topic_count> words = {
      "of the kitchen", "of trade", "of a letter or a talk", "of verse or a tale", "of a scent",
      "of another drink or a smoke", "of house and garden", "of the weather",
      "of a computer", "of something else"};
  std::string told;
  std::uint32_t named = 0;
  for (std::uint32_t t = 0; t < work.token_count() && named < 3; ++t) {
    const std::uint32_t tells = index.tells_of(work.known[t]);
    if (!lexicon::has_topic(tells) || lexicon::topic_of(tells) != work.tellings.topic) continue;
    const Span span = work.text.tokens[t].span;
    told += (named++ == 0 ? " (" : ", ") + std::string(text.substr(span.begin, span.size()));
  }
  if (named != 0) told += ')';
  return "this does not seem to speak of a wine: its words are " +
         std::string(words[static_cast<std::size_t>(work.tellings.topic)]) + told +
         "; what it names is set aside";
}

}  // namespace racking::context
