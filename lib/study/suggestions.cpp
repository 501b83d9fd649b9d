#include "racking/suggestions.hpp"

#include <algorithm>
#include <array>
#include <cstdio>
#include <optional>
#include <set>

#include "lexicon/hash.hpp"
#include "study/company.hpp"
#include "study/sketch.hpp"
#include "text/fold.hpp"

namespace racking {
inline namespace v1 {
namespace {

constexpr std::size_t longest_phrase = 200;      // bytes; longer ones are prose, not words to add
constexpr std::size_t most_companions = 96;      // of one phrase
constexpr std::uint32_t context_reach = 40;      // bytes on either side
constexpr std::uint64_t least_count = 3;
constexpr std::uint64_t least_learned = 200;
// In nats. Companions are far from independent: see the accuracy in tests/conformance/suggestions.cpp.
constexpr double least_margin = 8.0;

// One space for many, and nothing that shows nothing.
std::string single_spaced(std::string_view text) {
  std::string out;
  for (const char c : text) {
    const bool blank = static_cast<unsigned char>(c) <= ' ' || c == 0x7f;
    if (!blank)
      out += c;
    else if (!out.empty() && out.back() != ' ')
      out += ' ';
  }
  if (!out.empty() && out.back() == ' ') out.pop_back();
  return out;
}

// The words round a span, whole characters.
std::string excerpt(const std::string& text, Span span) {
  const auto inside = [&](std::size_t at) {
    return at < text.size() && (static_cast<unsigned char>(text[at]) & 0xc0u) == 0x80u;
  };
  std::size_t from = span.begin < context_reach ? 0 : span.begin - context_reach;
  std::size_t to = std::min<std::size_t>(text.size(), span.end + context_reach);
  while (from > 0 && inside(from)) --from;
  while (inside(to)) ++to;
  return text::to_nfc((from > 0 ? "…" : "") + single_spaced(text.substr(from, to - from)) +
                      (to < text.size() ? "…" : ""));
}

std::string number(double value) {
  std::array<char, 64> out;
  const int size = std::snprintf(out.data(), out.size(), "%.1f", value);
  return std::string(out.data(), static_cast<std::size_t>(std::max(0, size)));
}

std::string times(std::uint64_t count) {
  return count == 1 ? "once" : count == 2 ? "twice" : std::to_string(count) + " times";
}

std::string quoted(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    out += c;
  }
  return out + '"';
}

// Lower case with hyphens; what has no letter a–z in it gets a number of its own.
std::string id_of(std::string_view phrase) {
  std::string out;
  for (const char c : text::fold(phrase)) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
    if (plain)
      out += c;
    else if (c != '\'' && !out.empty() && out.back() != '-')
      out += '-';
  }
  while (!out.empty() && out.back() == '-') out.pop_back();
  if (!out.empty()) return out;
  return "word-" + std::to_string(lexicon::hash_key(phrase) % 1000000);
}

std::string entry_of(const Suggestion& one, std::string_view id) {
  std::string out = "# " + one.phrase + ": ";
  if (one.excess > 0) out += "between " + std::to_string(one.occurrences - one.excess) + " and ";
  out += times(one.occurrences) + '\n';
  for (const Suggestion::Context& context : one.contexts)
    out += "#   " + (context.id.empty() ? "" : single_spaced(text::to_nfc(context.id)) + ": ") + context.text + '\n';
  const std::string figures = "association " + number(one.association) + " nats, " + number(one.margin) +
                              " ahead of " + one.runner_up + "; " + std::to_string(one.companions) +
                              " companions, " + std::to_string(one.learned) + " known aromas to learn from";
  std::string entry = "[[descriptor]]\nid = " + quoted(id) + '\n';
  if (one.sure) {
    out += "# The company it keeps speaks for " + one.family + ": " + figures + ".\n";
    entry += "parents = [" + quoted(one.family) + "]\n";
  } else {
    out += "# Too little to tell its family. Fill it in, and take the marks away.\n";
    if (!one.runner_up.empty()) out += "# Nearest: " + one.family + " (" + figures + ").\n";
    entry += "parents = [\"\"]\n";
  }
  entry += "forms = [" + quoted(one.phrase) + "]\n";
  if (one.sure) return out + entry;
  for (std::size_t at = 0; at < entry.size();) {
    const std::size_t end = entry.find('\n', at);
    out += "# " + entry.substr(at, end - at + 1);
    at = end + 1;
  }
  return out;
}

}  // namespace

struct Suggestions::State {
  struct Kept {
    std::vector<Suggestion::Context> contexts;
    study::Companions companions;
  };

  explicit State(SuggestionOptions asked) : options(asked), phrases(asked.phrases) {}

  void keep(const Note& note, Span span, std::string_view id) {
    if (span.empty() || span.size() > longest_phrase) return;
    const std::string phrase = single_spaced(text::fold_exact(note.text(span)));
    if (phrase.empty()) return;
    Kept& kept = phrases.add(phrase);
    if (kept.contexts.size() < options.contexts)
      kept.contexts.push_back({std::string(id), excerpt(note.text(), span)});
    for (const std::uint32_t companion : company.companions_of(span)) {
      const auto found = std::find_if(kept.companions.begin(), kept.companions.end(),
                                      [&](const auto& one) { return one.first == companion; });
      if (found != kept.companions.end())
        ++found->second;
      else if (kept.companions.size() < most_companions)
        kept.companions.emplace_back(companion, 1);
    }
  }

  Suggestion judge(const study::Sketch<Kept>::Item& item) const {
    const auto& [phrase, counter] = item;
    Suggestion out;
    out.phrase = phrase;
    out.occurrences = counter.count;
    out.excess = counter.excess;
    out.contexts = counter.kept.contexts;
    out.learned = company.learned();
    for (const auto& [companion, often] : counter.kept.companions) out.companions += often;
    const std::vector<study::Fit> fit = company.fit(counter.kept.companions);
    if (fit.size() < 2) return out;
    out.family = fit[0].family;
    out.runner_up = fit[1].family;
    out.association = fit[0].weight;
    out.margin = fit[0].weight - fit[1].weight;
    out.sure = out.occurrences - out.excess >= least_count && out.learned >= least_learned &&
               out.margin >= least_margin && out.association > 0;
    return out;
  }

  SuggestionOptions options;
  study::Sketch<Kept> phrases;
  study::Company company;
  std::optional<Lexicon> lexicon;
  std::size_t notes = 0;
};

Suggestions::Suggestions(SuggestionOptions options) {
  if (options.phrases == 0) throw Error(ErrorCode::bad_argument, "suggestions must hold a phrase at least");
  state_ = std::make_unique<State>(options);
}
Suggestions::Suggestions(Suggestions&&) noexcept = default;
Suggestions& Suggestions::operator=(Suggestions&&) noexcept = default;
Suggestions::~Suggestions() = default;

void Suggestions::add(const Note& note, std::string_view id) {
  if (!state_->lexicon) state_->lexicon = note.lexicon();
  if (state_->lexicon->digest() != note.lexicon().digest())
    throw Error(ErrorCode::bad_argument, "suggestions take notes of one lexicon");
  ++state_->notes;
  state_->company.read(note);
  for (const Span span : note.unmapped()) state_->keep(note, span, id);
}

std::vector<Suggestion> Suggestions::top(std::size_t wanted) const {
  std::vector<Suggestion> out;
  for (const auto* item : state_->phrases.top(wanted)) out.push_back(state_->judge(*item));
  return out;
}

std::string Suggestions::to_toml(std::size_t wanted) const {
  const std::vector<Suggestion> all = top(wanted);
  std::string out = "# Frequent phrases that are not in the lexicon, of " +
                    std::to_string(state_->notes) + (state_->notes == 1 ? " note" : " notes") + ", counted in a sketch of " +
                    std::to_string(state_->options.phrases) + " phrases\n# (Space-Saving; ";
  out += is_exact() ? "it held them all, so counts are exact).\n"
                    : "it was full, so counts are bounds and rare phrases may be missing).\n";
  if (all.empty()) return out + "# There are none.\n";
  out += "# A family is named where the company of the phrase (the words beside it, the aromas\n"
         "# nearest to it) is most like that of the family's own: positive pointwise mutual\n"
         "# information (Bullinaria and Levy 2007), smoothed and summed. It is a guess, right a little\n"
         "# less than half the time: read the contexts.\n";
  std::set<std::string> ids;
  for (const Suggestion& one : all) {
    const std::string plain = id_of(one.phrase);
    std::string id = plain;
    for (int next = 2; !ids.insert(id).second || state_->lexicon->find(id); ++next)
      id = plain + '-' + std::to_string(next);
    out += '\n' + entry_of(one, id);
  }
  return out;
}

bool Suggestions::is_exact() const noexcept { return state_->phrases.is_exact(); }
std::size_t Suggestions::note_count() const noexcept { return state_->notes; }

std::vector<Suggestion> suggest(std::span<const Note> notes, std::size_t wanted,
                                SuggestionOptions options) {
  Suggestions suggestions(options);
  for (const Note& note : notes) suggestions.add(note);
  return suggestions.top(wanted);
}

}  // namespace v1
}  // namespace racking
