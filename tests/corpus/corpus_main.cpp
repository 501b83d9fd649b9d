// Reads the marked-up corpus through the whole reader and prints precision and recall by
// phenomenon. `corpus FOLDER [--mistakes] [FILE…]`. Lines that start with '!' are known misses:
// they must still be wrong (or the mark must go), and they count in the figures. Every other
// mistake is counted against the ceilings in known.tsv, which may only fall.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iomanip>
#include <iostream>
#include <map>
#include <string>
#include <vector>

#include "racking/racking.hpp"
#include "study/markup.hpp"

namespace {

namespace fs = std::filesystem;
using racking::study::Tally;

double share(int right, int of) { return of == 0 ? 1.0 : static_cast<double>(right) / of; }

double f1(int right, int missed, int extra) { return share(2 * right, 2 * right + missed + extra); }

struct Result {
  Tally tally;
  int lines = 0, wrong = 0;
};

void print(const std::string& name, const Result& result) {
  const Tally& t = result.tally;
  std::cout << std::left << std::setw(26) << name << std::right << std::fixed
            << std::setprecision(3) << std::setw(5) << result.lines << std::setw(6) << result.wrong
            << std::setw(8) << share(t.aromas_right, t.aromas_right + t.aromas_extra)
            << std::setw(7) << share(t.aromas_right, t.aromas_right + t.aromas_missed)
            << std::setw(7) << f1(t.aromas_right, t.aromas_missed, t.aromas_extra)
            << std::setw(7) << share(t.families_right, t.families_right + t.families_wrong)
            << std::setw(7) << share(t.stances_right, t.stances_right + t.stances_wrong)
            << std::setw(7) << share(t.phases_right, t.phases_right + t.phases_wrong)
            << std::setw(7) << share(t.asides_right, t.asides_right + t.asides_wrong)
            << std::setw(7) << f1(t.structure_right, t.structure_missed, t.structure_extra)
            << std::setw(7) << f1(t.hues_right, t.hues_missed, t.hues_extra)
            << std::setw(7) << f1(t.faults_right, t.faults_missed, t.faults_extra)
            << std::setw(7) << share(t.others_right, t.others_right + t.others_missed) << '\n';
}

bool read_file(const fs::path& path, const racking::Reader& reader, bool mistakes,
               Result& result) {
  std::ifstream in(path);
  std::string line;
  bool good = true;
  for (int number = 1; std::getline(in, line); ++number) {
    if (line.empty() || line[0] == '#') continue;
    const bool known = line[0] == '!';
    const auto expected = racking::study::parse_marked(known ? line.substr(1) : line);
    const auto comparison = racking::study::compare(expected, reader.read(expected.text));
    result.tally += comparison.tally;
    ++result.lines;
    result.wrong += comparison.right() ? 0 : 1;
    if (known && comparison.right()) {
      std::cout << path.string() << ':' << number << ": reads well now; take its '!' away\n";
      good = false;
    }
    if (mistakes && !comparison.right()) {
      std::cout << path.filename().string() << ':' << number << ": " << expected.text << '\n';
      for (const std::string& mistake : comparison.mistakes) std::cout << "    " << mistake << '\n';
    }
  }
  return good;
}

// name → most lines that may be wrong.
std::map<std::string, int> ceilings(const fs::path& path) {
  std::map<std::string, int> most;
  std::ifstream in(path);
  std::string name;
  for (int count = 0; in >> name >> count;) most[name] = count;
  return most;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2) {
    std::cerr << "usage: corpus FOLDER [--mistakes] [FILE...]\n";
    return 2;
  }
  const fs::path folder = argv[1];
  bool mistakes = false;
  std::vector<std::string> only;
  for (int i = 2; i < argc; ++i) {
    if (std::string(argv[i]) == "--mistakes") mistakes = true;
    else only.emplace_back(argv[i]);
  }
  std::vector<fs::path> paths;
  for (const auto& entry : fs::recursive_directory_iterator(folder))
    if (entry.path().extension() == ".txt") paths.push_back(entry.path());
  std::sort(paths.begin(), paths.end());

  const racking::Reader reader;
  const auto most = ceilings(folder / "known.tsv");
  std::map<std::string, Result> totals;
  bool good = true;
  std::cout << "phenomenon                lines wrong  aroma P      R     F1 family stance  phase"
               " asides struct    hue  fault  other\n";
  for (const fs::path& path : paths) {
    const std::string name = fs::relative(path, folder).string();
    if (!only.empty() &&
        std::find(only.begin(), only.end(), name) == only.end())
      continue;
    Result result;
    good = read_file(path, reader, mistakes, result) && good;
    print(name, result);
    Result& total = totals[name.starts_with("blind") ? "blind, all" : "open, all"];
    total.tally += result.tally;
    total.lines += result.lines;
    total.wrong += result.wrong;
    const auto ceiling = most.find(name);
    if (ceiling != most.end() && result.wrong > ceiling->second) {
      std::cout << "    more wrong lines than the " << ceiling->second << " of known.tsv\n";
      good = false;
    }
  }
  for (const auto& [name, result] : totals) print(name, result);
  return good ? 0 : 1;
}
