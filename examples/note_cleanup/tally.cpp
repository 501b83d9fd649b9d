#include "tally.hpp"

#include <algorithm>
#include <cmath>

#include "options.hpp"
#include "words.hpp"

namespace note_cleanup {

NoteFacts facts_of(const racking::Note& note, const Row& row) {
  NoteFacts facts;
  for (const auto family : families_found(note)) facts.families.push_back(family.index());
  for (std::size_t at = 0; at < all_dimensions.size(); ++at) {
    const auto& level = note.structure()[all_dimensions[at]];
    facts.ranges[at] = level.range;
    facts.conflicts[at] = level.conflict;
  }
  const bool suspect = note.condition().verdict == racking::Verdict::suspect;
  if (suspect) facts.condition = condition_words(note);
  facts.sound = note.condition().verdict == racking::Verdict::sound;
  facts.maturity = maturity_words(note);
  facts.coverage = note.coverage();
  facts.empty = note.aromas().empty() && note.readings().empty() && note.traits().empty() &&
                note.sight().empty() && note.quantities().empty() &&
                note.condition().faults.empty();
  for (const auto& change : row.changes) facts.changes.push_back(change.code);
  for (const auto& problem : note.problems()) facts.changes.push_back(problem.code);
  return facts;
}

void Tally::add(const NoteFacts& facts, const std::string& id, std::size_t shown) {
  ++notes;
  empty += facts.empty ? 1 : 0;
  for (const auto family : facts.families) ++families[family];
  for (std::size_t at = 0; at < facts.ranges.size(); ++at) {
    conflicts[at] += facts.conflicts[at] ? 1 : 0;
    if (!facts.ranges[at]) continue;
    ++stated[at];
    for (int step = facts.ranges[at]->low; step <= facts.ranges[at]->high; ++step) {
      ++steps[at][static_cast<std::size_t>(step - 1)];
    }
  }
  if (!facts.condition.empty()) {
    ++suspect_count;
    if (suspects.size() < most_suspects) suspects.push_back({id, facts.condition, shown});
  }
  sound_count += facts.sound ? 1 : 0;
  if (!facts.maturity.empty()) ++maturity[facts.maturity];
  for (const auto& change : facts.changes) ++changes[change];
  coverage += facts.coverage;
}

std::vector<std::pair<racking::Descriptor, std::size_t>> families_by_count(
    const Tally& tally, const racking::Lexicon& lexicon) {
  std::vector<std::pair<racking::Descriptor, std::size_t>> families;
  for (const auto& [index, count] : tally.families)
    families.emplace_back(lexicon.descriptor_at(index), count);
  std::stable_sort(families.begin(), families.end(),
                   [](const auto& a, const auto& b) { return a.second > b.second; });
  return families;
}

std::string maturity_counts(const Tally& tally) {
  std::vector<std::string> parts;
  for (const char* stage : {"early", "early to mid-life", "mid-life", "mid-life to late", "late"}) {
    const auto at = tally.maturity.find(stage);
    if (at != tally.maturity.end()) parts.push_back(at->first + " " + std::to_string(at->second));
  }
  return join(parts, ", ");
}

namespace {

std::string counted(std::size_t count, const std::string& one, const std::string& many) {
  return std::to_string(count) + " " + (count == 1 ? one : many);
}

std::string counts(const std::map<std::string, std::size_t>& map) {
  std::vector<std::string> parts;
  for (const auto& [name, count] : map) parts.push_back(name + " " + std::to_string(count));
  return join(parts, ", ");
}

void append_structure(std::string& text, const Tally& tally) {
  text += "Structure, in notes whose range covers the step:\n";
  for (std::size_t at = 0; at < all_dimensions.size(); ++at) {
    if (tally.stated[at] == 0) continue;
    std::vector<std::string> steps;
    for (int step = 1; step <= 5; ++step) {
      steps.push_back(std::string(racking::step_label(all_dimensions[at], step)) + " " +
                      std::to_string(tally.steps[at][static_cast<std::size_t>(step - 1)]));
    }
    std::string name(name_of(all_dimensions[at]));
    name.resize(11, ' ');
    text += "  " + name + join(steps, ", ");
    if (tally.conflicts[at] > 0)
      text += "; " + std::to_string(tally.conflicts[at]) + " in conflict with themselves";
    text += '\n';
  }
}

void append_conditions(std::string& text, const Tally& tally) {
  if (tally.suspect_count == 0) return;
  constexpr std::size_t most_listed = 50;
  text += "To look at again: " + counted(tally.suspect_count, "note", "notes") + "\n";
  for (std::size_t at = 0; at < std::min(tally.suspects.size(), most_listed); ++at) {
    text += "  " + tally.suspects[at].id + "  " + tally.suspects[at].condition + "\n";
  }
  if (tally.suspect_count > most_listed) {
    text += "  and " + std::to_string(tally.suspect_count - most_listed) + " more\n";
  }
}

}  // namespace

std::string summary_text(const Tally& tally, const racking::Lexicon& lexicon,
                         const std::vector<std::string>& inputs) {
  std::string text;
  for (const auto& input : inputs) text += input + "\n";
  text += counted(tally.notes, "note", "notes") + " read, " + counted(tally.unread, "row", "rows") +
          " not read. Lexicon: " + std::string(lexicon.name()) + " " +
          std::string(lexicon.version()) + " (" + std::string(lexicon.digest()) + ")\n";
  if (tally.notes > 0) {
    const double share = 100 * tally.coverage / static_cast<double>(tally.notes);
    text +=
        "Words accounted for: " + std::to_string(std::lround(share)) + " %, mean of the notes\n";
  }
  if (tally.empty > 0) text += "Nothing found in " + counted(tally.empty, "note", "notes") + "\n";
  if (!tally.changes.empty()) text += "Oddities in notes: " + counts(tally.changes) + "\n";
  std::vector<std::string> families;
  for (const auto& [family, count] : families_by_count(tally, lexicon)) {
    families.push_back(std::string(family.label()) + " " + std::to_string(count));
  }
  if (!families.empty()) text += "Families, in notes: " + join(families, ", ") + "\n";
  if (std::any_of(tally.stated.begin(), tally.stated.end(), [](auto n) { return n > 0; })) {
    append_structure(text, tally);
  }
  if (!tally.maturity.empty()) text += "Maturity, in notes: " + maturity_counts(tally) + "\n";
  append_conditions(text, tally);
  return text + caution + "\n";
}

}  // namespace note_cleanup
