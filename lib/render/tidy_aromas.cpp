#include "render/tidy_aromas.hpp"

#include <algorithm>
#include <bit>
#include <utility>

#include "render/tidy_words.hpp"

namespace racking::render {

namespace {

bool is_upper(char c) { return c >= 'A' && c <= 'Z'; }

// A label that a list can hold: no "and" of its own, no aside in brackets.
bool is_plain(std::string_view label) {
  return label.find(" and ") == std::string_view::npos &&
         label.find('(') == std::string_view::npos;
}

std::string state_words(State set) {
  std::string words;
  for (auto bits = static_cast<unsigned>(set); bits != 0; bits &= bits - 1) {
    if (!words.empty()) words += ", ";
    words += name_of(static_cast<State>(1u << std::countr_zero(bits)));
  }
  return words;
}

}  // namespace

std::string lowered(std::string_view words) {
  std::string out(words);
  const bool all_capitals =
      out.size() > 1 && std::none_of(out.begin(), out.end(),
                                     [](char c) { return c >= 'a' && c <= 'z'; });
  for (std::size_t i = 0; i < out.size(); ++i)
    if (is_upper(out[i]) && (i == 0 || all_capitals)) out[i] = static_cast<char>(out[i] - 'A' + 'a');
  return out;
}

std::string AromaList::label_of(const Note& note, const Aroma& aroma) const {
  const std::string label(aroma.descriptor.label());
  const auto means_it = [&](const std::string& words) {
    const auto found = lexicon_.find_form(words);
    return found && *found == aroma.descriptor;
  };
  if (is_plain(label) && means_it(label)) return label;
  if (aroma.parts.count == 0) return lowered(note.text(aroma.span));
  return label;
}

void AromaList::add(const Note& note, const Aroma& aroma) {
  // A state that the thing itself has, or that makes another thing of it, is not said.
  State state = aroma.state;
  if (has(aroma.descriptor.state(), state) || aroma.stance == Stance::denied) state = State::none;
  Item item{aroma.descriptor, label_of(note, aroma), state, aroma.strength, aroma.stance};
  if (state != State::none) {
    const std::string words = state_words(state);
    const auto other = lexicon_.find_form(words + " " + item.label);
    if ((other && *other != aroma.descriptor) || item.label.find(words) != std::string::npos)
      item.state = State::none;
  }
  for (Item& known : items_) {
    if (known.descriptor != item.descriptor || known.stance != item.stance) continue;
    known.state = known.state | item.state;
    if (!known.strength) known.strength = item.strength;
    return;
  }
  items_.push_back(std::move(item));
}

std::vector<const AromaList::Item*> AromaList::of(Stance stance) const {
  std::vector<const Item*> found;
  for (const Item& item : items_)
    if (item.stance == stance) found.push_back(&item);
  return found;
}

std::string AromaList::prefix(const Item& item) const {
  std::string words;
  if (item.strength) words = strength_words(*item.strength);
  const std::string states = state_words(item.state);
  if (!words.empty() && !states.empty()) words += ' ';
  return words + states;
}

// "lemon and lime zest" would be read as lemon zest and lime zest.
// "dried fig and mushroom" as dried mushroom.
bool AromaList::would_share(const std::string& before, const std::string& after) const {
  const auto last = after.rfind(' '), first = before.find(' ');
  return (last != std::string::npos && lexicon_.find_form(before + after.substr(last))) ||
         (first != std::string::npos && lexicon_.find_form(before.substr(0, first + 1) + after));
}

std::string AromaList::stated_words() const {
  struct Group {
    std::string prefix;
    State state = State::none;
    std::vector<std::string> labels;
  };
  std::vector<Group> groups;
  std::vector<std::string> dominant;
  for (const Item* item : of(Stance::stated)) {
    if (item->strength && is_dominant(*item->strength)) {
      dominant.push_back(item->label);
      continue;
    }
    const std::string words = prefix(*item);
    // A prefix is shared by two at most: three in a row read as a list of its own.
    const bool same = !groups.empty() && groups.back().prefix == words &&
                      (words.empty() || groups.back().labels.size() < 2);
    if (!same) groups.push_back({words, item->state, {}});
    groups.back().labels.push_back(item->label);
  }
  // The last two change places rather than share a word.
  if (!groups.empty() && groups.back().prefix.empty() && groups.back().labels.size() > 1) {
    std::vector<std::string>& labels = groups.back().labels;
    std::string& last = labels.back();
    std::string& before = labels[labels.size() - 2];
    if (would_share(before, last) && !would_share(last, before)) std::swap(last, before);
  }
  std::string out;
  bool with_used = false;
  const auto join = [&](std::size_t g, std::size_t i) -> std::string {
    const Group& group = groups[g];
    const bool last = g + 1 == groups.size() && i + 1 == group.labels.size();
    if (i > 0 && !group.prefix.empty()) return " and ";
    const std::string& before = i > 0 ? group.labels[i - 1] : groups[g - 1].labels.back();
    if (i == 0 && !with_used && groups[g - 1].state != State::none) {
      with_used = true;
      return " with ";
    }
    if (!last && !(g + 1 == groups.size() && i == 0 && !group.prefix.empty())) return ", ";
    if (would_share(before, group.labels[i])) return ", with ";
    const bool prefixed = i == 0 && (!groups[g - 1].prefix.empty() || group.labels.size() > 1);
    return prefixed ? ", and " : " and ";
  };
  for (std::size_t g = 0; g < groups.size(); ++g)
    for (std::size_t i = 0; i < groups[g].labels.size(); ++i) {
      if (g + i > 0) out += join(g, i);
      if (i == 0 && !groups[g].prefix.empty()) out += groups[g].prefix + " ";
      out += groups[g].labels[i];
    }
  if (!dominant.empty()) {
    if (!out.empty()) out += ", with ";
    out.append(listed(dominant, "and")).append(" dominant");
  }
  return out;
}

std::string AromaList::hedged_words() const { return all_hedged(of(Stance::hedged)); }

std::string AromaList::all_hedged(const std::vector<const Item*>& items) const {
  // "Perhaps A or B" doubts both; past two, each is doubted by itself.
  const bool pair = items.size() == 2 && prefix(*items[1]).empty() &&
                    !would_share(items[0]->label, items[1]->label);
  std::string out;
  for (const Item* item : items) {
    if (!out.empty()) out += pair ? " or " : ", ";
    if (out.empty() || !pair) out += "perhaps ";
    const std::string before = prefix(*item);
    if (!before.empty()) out.append(before).append(" ");
    out += item->label;
  }
  return out;
}

std::string AromaList::denied_words() const {
  std::vector<std::string> labels;
  for (const Item* item : of(Stance::denied)) labels.push_back(item->label);
  if (labels.empty()) return {};
  std::string words = "no ";
  return words.append(listed(labels, "or"));
}

std::string AromaList::body() const {
  std::string words = stated_words();
  const std::string hedged = hedged_words(), denied = denied_words();
  if (!hedged.empty()) words += (words.empty() ? "" : ", ") + hedged;
  if (!denied.empty()) words += (words.empty() ? "" : ", but ") + denied;
  return words;
}

std::string AromaList::sentence(Phase phase, bool after_nose) const {
  if (items_.empty()) return {};
  const bool stated = !of(Stance::stated).empty();
  switch (phase) {
    case Phase::nose:
      return (after_nose && stated ? "it smells of " : "on the nose, ") + body();
    case Phase::palate: return "on the palate, " + body();
    case Phase::finish: return "on the finish, " + body();
    default: return (stated ? "aromas and flavours of " : "") + body();
  }
}

std::string AromaList::aired_sentence() const {
  return items_.empty() ? std::string() : "with air, " + body();
}

}  // namespace racking::render
