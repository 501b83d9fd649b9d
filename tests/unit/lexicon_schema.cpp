// The JSON Schema for editors and the shape that the loader checks say the same.
#include <boost/test/unit_test.hpp>

#include <fstream>
#include <nlohmann/json.hpp>
#include <set>
#include <string>

#include "lexicon/shape.hpp"

using namespace racking::lexicon;
using nlohmann::json;

BOOST_AUTO_TEST_SUITE(lexicon_schema)

BOOST_AUTO_TEST_CASE(schema_and_shape_agree) {
  std::ifstream in(RACKING_SOURCE_DIR "/lexicon/lexicon.schema.json");
  const json schema = json::parse(in);
  const json& definitions = schema.at("$defs");
  for (const Kind& kind : kinds()) BOOST_TEST_CONTEXT(kind.name) {
    const json& entry = definitions.at(std::string(kind.name) + "_entry");
    std::set<std::string> ours, theirs, ours_required, theirs_required;
    for (const Key& key : kind.keys) {
      ours.emplace(key.name);
      if (key.required) ours_required.emplace(key.name);
    }
    for (const auto& [name, value] : entry.at("properties").items()) theirs.insert(name);
    for (const auto& name : entry.value("required", json::array()))
      theirs_required.insert(name.get<std::string>());
    BOOST_TEST(ours == theirs, boost::test_tools::per_element());
    BOOST_TEST(ours_required == theirs_required, boost::test_tools::per_element());
    BOOST_TEST(schema.at("properties").contains(std::string(kind.name)));
  }
  std::set<std::string> ours, theirs;
  for (const Key& key : set_keys()) ours.emplace(key.name);
  for (const auto& [name, value] : definitions.at("sets").at("properties").items()) theirs.insert(name);
  BOOST_TEST(ours == theirs, boost::test_tools::per_element());
}

BOOST_AUTO_TEST_CASE(closed_lists_agree) {
  std::ifstream in(RACKING_SOURCE_DIR "/lexicon/lexicon.schema.json");
  const json definitions = json::parse(in).at("$defs");
  const std::pair<const char*, ClosedList> lists[] = {
      {"dimension", ClosedList::dimension}, {"hue", ClosedList::hue}, {"fault", ClosedList::fault},
      {"quantity_kind", ClosedList::quantity_kind}, {"state", ClosedList::state},
      {"stop", ClosedList::stop}, {"role", ClosedList::role}, {"frame", ClosedList::frame},
      {"sense_choice", ClosedList::sense_choice}, {"wine_colour", ClosedList::wine_colour}};
  for (const auto& [name, list] : lists) BOOST_TEST_CONTEXT(name) {
    std::vector<std::string> theirs = definitions.at(name).at("enum");
    std::vector<std::string> ours(members(list).begin(), members(list).end());
    BOOST_TEST(ours == theirs, boost::test_tools::per_element());
  }
}

BOOST_AUTO_TEST_SUITE_END()
