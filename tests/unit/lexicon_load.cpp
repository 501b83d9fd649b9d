#include <boost/test/unit_test.hpp>

#include <filesystem>
#include <fstream>

#include "unit/lexicon_support.hpp"

using namespace lexicon_test;

namespace {

std::vector<std::string> problems_of(const std::string& toml) {
  Source source;
  std::vector<Problem> problems;
  load_text(toml, "test.toml", source, problems);
  std::vector<std::string> out;
  for (const Problem& problem : problems) out.push_back(problem.to_string());
  return out;
}

// A folder of its own that goes away again.
class Folder {
 public:
  Folder() {
    std::string name = (std::filesystem::temp_directory_path() / "racking-XXXXXX").string();
    BOOST_REQUIRE(mkdtemp(name.data()) != nullptr);
    path_ = name;
  }
  ~Folder() { std::filesystem::remove_all(path_); }
  void write(const std::string& name, const std::string& text) const {
    std::filesystem::create_directories((path_ / name).parent_path());
    std::ofstream(path_ / name) << text;
  }
  std::string path() const { return path_.string(); }

 private:
  std::filesystem::path path_;
};

struct Case { std::string toml, problem; };

}  // namespace

BOOST_AUTO_TEST_SUITE(lexicon_load)

BOOST_AUTO_TEST_CASE(every_problem_of_form_has_its_place_and_its_mend) {
  const Case cases[] = {
      {"[[descriptr]]\nid = \"x\"\n",
       "test.toml:1:3: unknown kind of entry 'descriptr' (did you mean 'descriptor'?)"},
      {"[[descriptor]]\nid = \"x\"\nparent = [\"y\"]\n",
       "test.toml:3:1: unknown key 'parent' in [[descriptor]] (did you mean 'parents'?)"},
      {"[[anchor]]\nforms = [\"acid\"]\n",
       "test.toml:1:1: [[anchor]] has no 'dimension' (add dimension = a string)"},
      {"[[anchor]]\ndimension = \"acidty\"\nforms = [\"é\"]\n",
       "test.toml:2:13: 'acidty' is no value of 'dimension' (did you mean 'acidity'?)"},
      {"[[anchor]]\ndimension = \"body\"\nforms = \"é\"\n",
       "test.toml:3:9: 'forms' must be a list of strings (put it in brackets: [\"…\"])"},
      {"[[anchor]]\ndimension = \"body\"\nforms = [\"é\", 7]\n",
       "test.toml:3:9: 'forms' must be a list of strings (see lexicon/README.md)"},
      {"[[level]]\nforms = [\"firm\"]\ntannin = [5, 4]\n",
       "test.toml:3:10: 'tannin' must be two steps, [low, high], from 1 to 5 "
       "(write [2, 3], the lower first)"},
      {"[[level]]\nforms = [\"firm\"]\ntannin = [0, 4]\n",
       "test.toml:3:10: 'tannin' must be two steps, [low, high], from 1 to 5 "
       "(write [2, 3], the lower first)"},
      {"[descriptor]\nid = \"x\"\n",
       "test.toml:1:2: 'descriptor' is not a list of entries "
       "(write [[descriptor]], with two brackets)"},
      {"[[cue]]\nid = \"c\"\nrole = \"forward\"\nforms = [\"no\"]\nsets = {stanse = \"denied\"}\n",
       "test.toml:5:9: unknown key 'stanse' in 'sets' (did you mean 'stance'?)"},
      {"[[cue]]\nid = \"c\"\nrole = \"forward\"\nforms = [\"no\"]\nsets = {stance = \"felt\"}\n",
       "test.toml:5:18: 'felt' is no value of 'stance' (one of: stated, hedged, denied)"},
      {"[[descriptor]]\nid = \"x\"\nparents = [\"y\"]\norigin = [\"grape\", \"casks\"]\n",
       "test.toml:4:20: 'casks' is no value of 'origin' (did you mean 'cask'?)"},
      {"[[known]]\nforms = [\"éèê\"]\nclass = \"talk\"\nfoo = 1\n",
       "test.toml:4:1: unknown key 'foo' in [[known]] (one of: class, forms, colour, style, examples)"},
      {"[[sight]]\nkind = \"rim\"\nvalue = \"x\"\nforms = [\"ok\", \"cafe\xcc\x81\"]\n",
       "test.toml:4:16: the text is not in Unicode normalization form C "
       "(write accented letters as one character each)"},
      {"version = \"2\"\n", "test.toml:1:1: unknown kind of entry 'version'"},
  };
  for (const Case& one : cases) BOOST_TEST_CONTEXT(one.toml) {
    const auto found = problems_of(one.toml);
    BOOST_REQUIRE(!found.empty());
    BOOST_TEST(found.front().substr(0, one.problem.size()) == one.problem);
  }
}

BOOST_AUTO_TEST_CASE(columns_count_code_points) {
  const auto found = problems_of("[[cue]]\nid = \"c\"\nrole = \"forward\"\nforms = [\"no\"]\n"
                                 "sets = {frame = \"é\U0001F347\", when = \"nw\"}\n");
  BOOST_REQUIRE(found.size() == 2u);
  BOOST_TEST(found[0].starts_with("test.toml:5:17: 'é\U0001F347' is no value of 'frame'"));
  BOOST_TEST(found[1].starts_with("test.toml:5:30: 'nw' is no value of 'when' (did you mean 'now'?)"));
}

BOOST_AUTO_TEST_CASE(a_syntax_error_hides_nothing_else) {
  const auto found = problems_of("[[family]]\nid = \"f\"\n[[family]]\nid = é\n"
                                 "[[family]]\nid = \"g\"\nbad = 1\n");
  BOOST_REQUIRE(found.size() == 2u);
  BOOST_TEST(found[0].starts_with("test.toml:4:6: TOML syntax: "));
  BOOST_TEST(found[1].starts_with("test.toml:7:1: unknown key 'bad'"));
  BOOST_TEST(problems_of("[[family]]\nid = \"\"\"never closed\n").size() == 1u);
  BOOST_TEST(problems_of("[[family]]\nid = \"\xff\"\n").size() == 1u);
  BOOST_TEST(problems_of("]]]").size() == 1u);
  BOOST_TEST(problems_of("").empty());
}

BOOST_AUTO_TEST_CASE(problems_of_all_files_come_in_order) {
  const Folder folder;
  folder.write("b.toml", "[[family]]\nid = \"f\"\nx = 1\ny = 2\n");
  folder.write("a/deep.toml", "[[family]]\nid = \"F F\"\n[[descriptor]]\nid = \"d\"\nparents = [\"q\"]\n");
  folder.write("a/notes.txt", "not TOML");
  folder.write("lexicon.toml", "name = \"mine\"\nversion = \"3\"\n");
  try {
    Lexicon::load(folder.path());
    BOOST_FAIL("no error");
  } catch (const Error& error) {
    BOOST_TEST((error.code() == ErrorCode::lexicon_invalid));
    BOOST_REQUIRE(error.problems().size() == 4u);
    BOOST_TEST(error.problems()[0].message == "'F F' is no id");
    BOOST_TEST(error.problems()[0].source == folder.path() + "/a/deep.toml");
    BOOST_TEST(error.problems()[1].message == "unknown descriptor 'q'");
    BOOST_TEST(error.problems()[2].line == 3u);
    BOOST_TEST(error.problems()[3].line == 4u);
    BOOST_TEST(error.line() == 2u);
    BOOST_TEST(error.column() == 6u);
    BOOST_TEST(std::string(error.what()).find("and 3 more") != std::string::npos);
  }
  folder.write("b.toml", "");
  folder.write("a/deep.toml", "");
  const Lexicon lexicon = Lexicon::load(folder.path());
  BOOST_TEST(lexicon.name() == "mine");
  BOOST_TEST(lexicon.version() == "3");
}

BOOST_AUTO_TEST_CASE(a_missing_folder_is_unreadable) {
  BOOST_CHECK_EXCEPTION(Lexicon::load("/nonexistent/lexicon"), Error, [](const Error& error) {
    return error.code() == ErrorCode::lexicon_unreadable;
  });
}

BOOST_AUTO_TEST_SUITE_END()
