// Judgements note by note: tests/data/judgements.tsv.
#include <boost/test/unit_test.hpp>

#include <fstream>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "racking/racking.hpp"

using namespace racking;

namespace {

std::vector<std::string> columns_of(const std::string& line) {
  std::vector<std::string> out;
  std::istringstream in(line);
  for (std::string one; std::getline(in, one, '\t');) out.push_back(one);
  return out;
}

std::string unescaped(std::string text) {
  for (std::size_t at; (at = text.find("\\n")) != std::string::npos;) text.replace(at, 2, "\n");
  return text;
}

std::string joined(const std::set<std::string>& all) {
  std::string out;
  for (const std::string& one : all) out += (out.empty() ? "" : ", ") + one;
  return out.empty() ? "none" : out;
}

std::string faults_of(const Note& note) {
  std::set<std::string> all;
  for (const FaultReading& one : note.condition().faults) {
    all.insert(std::string(name_of(one.fault)) + " " + std::string(name_of(one.stance)));
    BOOST_TEST(!one.caution.empty());
    BOOST_TEST(one.caution.find("no laboratory result") != std::string_view::npos);
    BOOST_TEST(!note.parts(one.spans).empty());
  }
  return joined(all);
}

std::string stage_of(const Note& note) {
  const auto& stage = note.maturity().stage;
  BOOST_TEST(stage.has_value() == !note.maturity().evidence.empty());
  if (!stage) return "none";
  const std::string first(name_of(stage->first)), second(name_of(stage->second));
  return first == second ? first : first + " to " + second;
}

std::string remarks_of(const Note& note) {
  std::set<std::string> all;
  for (const Remark& one : note.remarks()) {
    all.emplace(one.id);
    BOOST_TEST(!one.id.empty());
    BOOST_TEST(!one.spans.empty());
    for (const Span span : one.spans) BOOST_TEST(!note.text(span).empty());
  }
  return joined(all);
}

}  // namespace

BOOST_AUTO_TEST_SUITE(judge_table)

BOOST_AUTO_TEST_CASE(each_note_is_judged_as_its_row_says) {
  const Reader reader;
  std::ifstream in(RACKING_TEST_DATA_DIR "/judgements.tsv");
  int rows = 0, negatives = 0;
  for (std::string line; std::getline(in, line);) {
    if (line.empty() || line[0] == '#') continue;
    const auto row = columns_of(line);
    BOOST_REQUIRE_EQUAL(row.size(), 5u);
    ++rows;
    negatives += row[2] == "none" || row[3] == "none" || row[4] == "none" ? 1 : 0;
    const Note note = reader.read(unescaped(row[0]));
    BOOST_TEST_CONTEXT(row[0]) {
      if (row[1] != "-") BOOST_TEST(name_of(note.condition().verdict) == row[1]);
      if (row[2] != "-") BOOST_TEST(faults_of(note) == row[2]);
      if (row[3] != "-") BOOST_TEST(stage_of(note) == row[3]);
      if (row[4] != "-") BOOST_TEST(remarks_of(note) == row[4]);
    }
  }
  BOOST_TEST(rows >= 120);
  BOOST_TEST(negatives * 3 >= rows);
}

BOOST_AUTO_TEST_SUITE_END()
