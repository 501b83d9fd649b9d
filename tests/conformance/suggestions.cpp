// How often the likely family of a suggestion is right: descriptors that are known are hidden from the
// lexicon, a fifth at a time, the notes read without them, and what is suggested compared with
// where they stood. The truth is the lexicon's own; the notes are the project's corpus and
// demo, and sentences that follow the counts in tests/data/word_counts.tsv with forms put in by
// chance, whose company means nothing: there no more than chance is to be had.
#include <boost/test/unit_test.hpp>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <map>
#include <random>
#include <set>
#include <string>
#include <vector>

#include "lexicon/build.hpp"
#include "lexicon/load.hpp"
#include "racking/racking.hpp"
#include "study/markup.hpp"
#include "text/fold.hpp"

namespace {

using racking::lexicon::Entry;
using racking::lexicon::Source;
using Texts = std::vector<std::string>;

const std::string root = RACKING_SOURCE_DIR;
constexpr unsigned folds = 5;

std::vector<std::string> files(const std::string& folder) {
  std::vector<std::string> out;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(root + folder))
    if (entry.is_regular_file()) out.push_back(entry.path().string());
  std::sort(out.begin(), out.end());
  return out;
}

Texts invented_notes() {
  Texts out;
  for (const std::string& path : files("/tests/corpus")) {
    std::ifstream in(path);
    if (!path.ends_with(".txt")) continue;
    for (std::string line; std::getline(in, line);) {
      if (line.empty() || line.starts_with('#')) continue;
      if (line.starts_with('!')) line.erase(0, 1);
      out.push_back(racking::study::parse_marked(line).text);
    }
  }
  for (const std::string& path : files("/examples/notes")) {
    std::ifstream in(path);
    for (std::string line; std::getline(in, line);) out.push_back(line);
  }
  return out;
}

Texts chance_notes(const racking::Lexicon& lexicon) {
  std::map<std::string, std::pair<std::vector<std::string>, std::vector<double>>> follow;
  std::ifstream in(std::string(RACKING_TEST_DATA_DIR) + "/word_counts.tsv");
  for (std::string line; std::getline(in, line);) {
    const std::size_t a = line.find('\t'), b = line.rfind('\t');
    if (line[0] > '2' || a == b) continue;
    const std::string phrase = line.substr(a + 1, b - a - 1);
    const std::size_t space = phrase.find(' ');
    auto& at = follow[space == std::string::npos ? "" : phrase.substr(0, space)];
    at.first.push_back(phrase.substr(space == std::string::npos ? 0 : space + 1));
    at.second.push_back(std::atof(line.c_str() + b));
  }
  std::mt19937 dice(20261125);
  Texts out;
  for (int note = 0; note < 4000; ++note) {
    std::string text, last;
    for (int word = 0; word < 30; ++word) {
      if (dice() % 5 == 0) {
        last.clear();
        text += std::string(lexicon.descriptor_at(1 + dice() % (lexicon.descriptor_count() - 1)).label()) + ", ";
        continue;
      }
      const auto found = follow.find(last);
      const auto& choices = found == follow.end() ? follow.at("") : found->second;
      last = choices.first[std::discrete_distribution<std::size_t>(choices.second.begin(), choices.second.end())(dice)];
      text += last + (word % 10 == 9 ? ". " : " ");
    }
    out.push_back(text);
  }
  return out;
}

// Rules that speak of what is hidden go with it.
std::string built_without(Source source, const std::set<std::string>& hidden) {
  for (Entry& entry : source.entries) {
    const auto id = entry.texts.find("id");
    if (entry.kind == "descriptor" && id != entry.texts.end() && hidden.contains(id->second.value))
      entry.forms.clear();   // a node of the hierarchy still, that no word leads to
  }
  for (int attempt = 0; attempt < 4; ++attempt) {
    std::vector<racking::Problem> problems;
    std::string blob = racking::lexicon::build(source, nullptr, problems);
    if (problems.empty()) return blob;
    std::erase_if(source.entries, [&](const Entry& entry) {
      return std::any_of(problems.begin(), problems.end(), [&](const racking::Problem& problem) {
        if (source.files[entry.place.file] != problem.source || entry.kind == "descriptor") return false;
        if (problem.line == entry.place.line) return true;
        const auto is_there = [&](const auto& one) { return one.place.line == problem.line; };
        if (std::any_of(entry.forms.begin(), entry.forms.end(), is_there)) return true;
        return std::any_of(entry.lists.begin(), entry.lists.end(), [&](const auto& list) {
          return std::any_of(list.second.begin(), list.second.end(), is_there);
        });
      });
    });
  }
  BOOST_FAIL("the lexicon does not build without the hidden descriptors");
  return {};
}

struct Score { std::size_t phrases = 0, right = 0, sure = 0, sure_right = 0; };

std::string share(std::size_t part, std::size_t whole) {
  return std::to_string(whole == 0 ? 0 : (100 * part + whole / 2) / whole) + " %";
}

Score measured(const Source& source, const racking::Lexicon& whole, const Texts& texts, const char* what) {
  const racking::Reader reader(whole);
  struct Truth { std::string descriptor, family; };
  std::map<std::string, Truth> truth;
  std::map<std::string, std::size_t> families;
  for (const std::string& text : texts) {
    const racking::Note note = reader.read(text);
    for (const racking::Aroma& aroma : note.aromas())
      if (aroma.parts.count == 0)
        truth[racking::text::fold_exact(note.text(aroma.span))] = {
            std::string(aroma.descriptor.id()), std::string(aroma.descriptor.family().id())};
  }
  Score score;
  for (unsigned fold = 0; fold < folds; ++fold) {
    std::set<std::string> hidden;
    for (std::size_t i = 1; i < whole.descriptor_count(); ++i) {
      const racking::Descriptor one = whole.descriptor_at(i);
      if (i % folds == fold && !one.is_family()) hidden.insert(std::string(one.id()));
    }
    const racking::Reader without(racking::Lexicon::from_blob(built_without(source, hidden)));
    racking::Suggestions suggestions;
    for (const std::string& text : texts) suggestions.add(without.read(text));
    for (const racking::Suggestion& one : suggestions.top(100000)) {
      const auto found = truth.find(one.phrase);
      if (one.occurrences < 3 || found == truth.end() || !hidden.contains(found->second.descriptor)) continue;
      ++score.phrases;
      ++families[found->second.family];
      const bool right = one.family == found->second.family;
      score.right += right;
      score.sure += one.sure;
      score.sure_right += one.sure && right;
    }
  }
  std::size_t commonest = 0;
  for (const auto& [family, count] : families) commonest = std::max(commonest, count);
  std::cout << "figure suggestions\t" << what << '\t' << score.phrases << '\t' << share(score.right, score.phrases)
            << '\t' << share(score.sure, score.phrases) << '\t' << share(score.sure_right, score.sure) << '\t'
            << share(commonest, score.phrases) << '\n';
  return score;
}

}  // namespace

BOOST_AUTO_TEST_CASE(suggestion_accuracy) {
  std::vector<racking::Problem> problems;
  const Source source = racking::lexicon::load_folder(root + "/lexicon", problems);
  BOOST_REQUIRE(problems.empty());
  const racking::Lexicon house = racking::Lexicon::house();
  const Score invented = measured(source, house, invented_notes(), "corpus and demo notes");
  BOOST_TEST(invented.phrases >= 100u);
  BOOST_TEST(invented.right * 5 >= invented.phrases, "one likely family in five is right, at least");
  BOOST_TEST(invented.sure > 0u);
  BOOST_TEST(invented.sure_right * 10 >= invented.sure * 4, "of those that are named, four in ten");
  measured(source, house, chance_notes(house), "words by their counts, forms by chance");
}
