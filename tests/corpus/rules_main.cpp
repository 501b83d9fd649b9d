// Which cues and sense rules the corpus needs: each is taken out in turn, the lexicon built anew and
// every line read. `rules_needed LEXICON CORPUS [RULE…]` lists for each rule how many lines get
// worse without it, how many read otherwise at all (the mark-up does not tell every member), and a
// line that does. Its exit code is 1 if there is a rule that none needs, or one without an example.
// Takes a minute or two.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iomanip>
#include <iostream>
#include <optional>
#include <string>
#include <vector>

#include "lexicon/build.hpp"
#include "lexicon/load.hpp"
#include "racking/racking.hpp"
#include "study/markup.hpp"

namespace {

namespace fs = std::filesystem;
using racking::lexicon::Entry;
using racking::lexicon::Source;
using racking::study::MarkedText;

struct Line {
  MarkedText expected;
  std::size_t mistakes = 0;   // with every rule in place
  std::string record;
};

std::vector<Line> corpus(const fs::path& folder) {
  std::vector<fs::path> paths;
  for (const auto& entry : fs::recursive_directory_iterator(folder))
    if (entry.path().extension() == ".txt") paths.push_back(entry.path());
  std::sort(paths.begin(), paths.end());
  std::vector<Line> lines;
  for (const fs::path& path : paths) {
    std::ifstream in(path);
    for (std::string line; std::getline(in, line);)
      if (!line.empty() && line[0] != '#')
        lines.push_back({racking::study::parse_marked(line[0] == '!' ? line.substr(1) : line), 0, {}});
  }
  return lines;
}

std::size_t mistakes(const Line& line, const racking::Reader& reader) {
  return racking::study::compare(line.expected, reader.read(line.expected.text)).mistakes.size();
}

// The record without what names the lexicon.
std::string record(const Line& line, const racking::Reader& reader) {
  racking::JsonOptions options;
  options.depth = racking::JsonOptions::Depth::plain;
  const std::string all = reader.read(line.expected.text).to_json(options);
  return all.substr(all.find("\"text\""));
}

bool is_rule(const Entry& entry) { return entry.kind == "cue" || entry.kind == "sense"; }

// Without an entry; nothing if the rest can't do without it.
std::optional<racking::Reader> without(const Source& whole, std::size_t index) {
  Source source = whole;
  source.entries.erase(source.entries.begin() + static_cast<std::ptrdiff_t>(index));
  std::vector<racking::Problem> problems;
  const std::string blob = racking::lexicon::build(source, nullptr, problems);
  if (!problems.empty()) return std::nullopt;
  return racking::Reader(racking::Lexicon::from_blob(blob));
}

// Says how the rule does; false if no line needs it or it has no example.
bool weigh(const Source& whole, std::size_t index, const std::vector<Line>& lines) {
  const Entry& entry = whole.entries[index];
  const bool has_example = entry.lists.contains("examples");
  const std::string& id = entry.texts.find("id")->second.value;
  const auto reader = without(whole, index);
  std::size_t worse = 0, other = 0;
  std::string one;
  if (reader)
    for (const Line& line : lines) {
      if (record(line, *reader) == line.record) continue;
      if (other++ == 0) one = line.expected.text;
      if (mistakes(line, *reader) > line.mistakes && worse++ == 0) one = line.expected.text;
    }
  const bool needed = !reader || other > 0;
  std::replace(one.begin(), one.end(), '\n', ' ');
  std::cout << std::left << std::setw(34) << id << std::right << std::setw(5)
            << (reader ? std::to_string(worse) : "all") << std::setw(6)
            << (reader ? std::to_string(other) : "") << "  "
            << (needed ? "" : "NO LINE NEEDS IT ") << (has_example ? "" : "NO EXAMPLE ") << one
            << std::endl;
  return needed && has_example;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 3) {
    std::cerr << "usage: rules_needed LEXICON CORPUS [RULE...]\n";
    return 2;
  }
  std::vector<racking::Problem> problems;
  const Source whole = racking::lexicon::load_folder(argv[1], problems);
  const std::string blob = racking::lexicon::build(whole, nullptr, problems);
  for (const racking::Problem& problem : problems) std::cerr << problem.to_string() << '\n';
  if (!problems.empty()) return 2;
  const racking::Reader reader(racking::Lexicon::from_blob(blob));
  std::vector<Line> lines = corpus(argv[2]);
  for (Line& line : lines) {
    line.mistakes = mistakes(line, reader);
    line.record = record(line, reader);
  }
  const std::vector<std::string> only(argv + 3, argv + argc);
  bool good = true;
  for (std::size_t i = 0; i < whole.entries.size(); ++i) {
    if (!is_rule(whole.entries[i])) continue;
    const std::string& id = whole.entries[i].texts.find("id")->second.value;
    if (!only.empty() && std::find(only.begin(), only.end(), id) == only.end()) continue;
    good = weigh(whole, i, lines) && good;
  }
  return good ? 0 : 1;
}
