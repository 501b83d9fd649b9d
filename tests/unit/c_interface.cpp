// The C interface: statuses, errors, options; no exception crosses it.
#include "racking/racking.h"

#include <boost/test/unit_test.hpp>

#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <string>
#include <string_view>

#include "racking/reader.hpp"
#include "racking/version.hpp"

namespace {

struct Opened {
  Opened() {
    BOOST_REQUIRE_EQUAL(racking_reader_open(nullptr, nullptr, 0, 0, &reader, nullptr), RACKING_OK);
  }
  ~Opened() { racking_reader_close(reader); }
  racking_reader* reader = nullptr;
};

struct Failure {
  ~Failure() { racking_error_free(error); }
  racking_error* error = nullptr;
};

std::string read(const racking_reader* reader, std::string_view text,
                 const racking_read_options* options = nullptr) {
  char* json = nullptr;
  std::size_t length = 0;
  BOOST_REQUIRE_EQUAL(
      racking_read_json(reader, text.data(), text.size(), options, &json, &length, nullptr),
      RACKING_OK);
  std::string result(json, length);
  BOOST_TEST(json[length] == '\0');
  racking_string_free(json);
  return result;
}

// A lexicon folder with one file, gone again at the end.
struct Folder {
  explicit Folder(const char* toml) {
    std::filesystem::create_directories(path);
    std::ofstream(path / "words.toml") << toml;
  }
  ~Folder() { std::filesystem::remove_all(path); }
  std::filesystem::path path = std::filesystem::temp_directory_path() /
                               ("racking-c-interface-" + std::to_string(getpid()));
};

}  // namespace

BOOST_AUTO_TEST_SUITE(c_interface)

BOOST_AUTO_TEST_CASE(reads_as_the_cpp_interface_does) {
  const Opened opened;
  const racking::Reader reader;
  const std::string text = "Nose: cassis, crème brûlée 🍷, no butter. Crisp acidity. \xFF";
  for (const int depth : {0, 1})
    for (const int offsets : {0, 1, 2}) {
      racking_read_options options = racking_read_options_default();
      options.depth = static_cast<racking_depth>(depth);
      options.offsets = static_cast<racking_offsets>(offsets);
      options.id = "row \"7\"";
      racking::JsonOptions same;
      same.depth = static_cast<racking::JsonOptions::Depth>(depth);
      same.offsets = static_cast<racking::Offsets>(offsets);
      same.id = "row \"7\"";
      options.explain = offsets;
      same.explain = offsets != 0;
      BOOST_TEST(read(opened.reader, text, &options) == reader.read(text).to_json(same));
    }
  BOOST_TEST(read(opened.reader, text) == reader.read(text).to_json());
}

BOOST_AUTO_TEST_CASE(reads_empty_and_embedded_nul) {
  const Opened opened;
  char* json = nullptr;
  BOOST_TEST(racking_read_json(opened.reader, nullptr, 0, nullptr, &json, nullptr, nullptr) ==
             RACKING_OK);
  BOOST_REQUIRE(json != nullptr);
  racking_string_free(json);
  BOOST_TEST(read(opened.reader, std::string_view("cassis\0plum", 11)).find("\\u0000") !=
             std::string::npos);
}

BOOST_AUTO_TEST_CASE(tells_versions) {
  const Opened opened;
  const racking::Lexicon house = racking::Lexicon::house();
  BOOST_TEST(racking_version() == racking::version());
  BOOST_TEST(racking_lexicon_name(opened.reader) == house.name());
  BOOST_TEST(racking_lexicon_version(opened.reader) == house.version());
  BOOST_TEST(racking_lexicon_digest(opened.reader) == house.digest());
}

BOOST_AUTO_TEST_CASE(refuses_bad_arguments) {
  const Opened opened;
  const auto status = [](racking_error* error) { return racking_error_status(error); };
  char* json = nullptr;
  racking_reader* reader = nullptr;
  {
    Failure failure;
    BOOST_TEST(racking_read_json(nullptr, "a", 1, nullptr, &json, nullptr, &failure.error) ==
               RACKING_BAD_ARGUMENT);
    BOOST_TEST(status(failure.error) == RACKING_BAD_ARGUMENT);
    BOOST_TEST(std::string_view(racking_error_message(failure.error)) == "reader is NULL");
  }
  BOOST_TEST(racking_read_json(opened.reader, nullptr, 1, nullptr, &json, nullptr, nullptr) ==
             RACKING_BAD_ARGUMENT);
  BOOST_TEST(racking_read_json(opened.reader, "a", 1, nullptr, nullptr, nullptr, nullptr) ==
             RACKING_BAD_ARGUMENT);
  racking_read_options options{};   // struct_size not set
  BOOST_TEST(racking_read_json(opened.reader, "a", 1, &options, &json, nullptr, nullptr) ==
             RACKING_BAD_ARGUMENT);
  BOOST_TEST(racking_reader_open(nullptr, nullptr, 1, 0, &reader, nullptr) ==
             RACKING_BAD_ARGUMENT);
  BOOST_TEST(racking_reader_open(nullptr, nullptr, 0, 0, nullptr, nullptr) ==
             RACKING_BAD_ARGUMENT);
  BOOST_TEST(json == nullptr);
  BOOST_TEST(reader == nullptr);
}

BOOST_AUTO_TEST_CASE(keeps_the_size_limit) {
  racking_reader* reader = nullptr;
  BOOST_REQUIRE_EQUAL(racking_reader_open(nullptr, nullptr, 0, 8, &reader, nullptr), RACKING_OK);
  Failure failure;
  char* json = nullptr;
  BOOST_TEST(racking_read_json(reader, "123456789", 9, nullptr, &json, nullptr, &failure.error) ==
             RACKING_TEXT_TOO_LARGE);
  BOOST_TEST(racking_error_status(failure.error) == RACKING_TEXT_TOO_LARGE);
  BOOST_TEST(json == nullptr);
  racking_reader_close(reader);
}

BOOST_AUTO_TEST_CASE(lays_overlays_on) {
  const Folder folder(
      "[[descriptor]]\nid = \"quillberry\"\nparents = [\"hedgerow\"]\n"
      "forms = [\"quillberry\"]\n");
  const std::string path = folder.path.string();
  const char* const overlays[] = {path.c_str()};
  racking_reader* reader = nullptr;
  Failure failure;
  BOOST_TEST(racking_reader_open(nullptr, overlays, 1, 0, &reader, &failure.error) == RACKING_OK,
             racking_error_message(failure.error));
  BOOST_REQUIRE(reader != nullptr);
  BOOST_TEST(read(reader, "Smells of quillberry.").find("\"quillberry\"") !=
             std::string::npos);
  racking_reader_close(reader);
}

BOOST_AUTO_TEST_CASE(lists_every_problem_of_a_lexicon) {
  const Folder folder(
      "[[descriptor]]\nid = \"quill\"\nparents = [\"no-such-parent\"]\nforms = [\"quill dust\"]\n"
      "[[descriptor]]\nid = \"sprocket\"\nparents = [\"nor-this\"]\nforms = [\"sprocket dust\"]\n");
  const std::string path = folder.path.string();
  const char* const overlays[] = {path.c_str()};
  racking_reader* reader = nullptr;
  Failure failure;
  BOOST_TEST(racking_reader_open(nullptr, overlays, 1, 0, &reader, &failure.error) ==
             RACKING_LEXICON_INVALID);
  BOOST_TEST(reader == nullptr);
  BOOST_REQUIRE_EQUAL(racking_error_problem_count(failure.error), 2u);
  BOOST_TEST(racking_error_line(failure.error) == 3u);
  BOOST_TEST(racking_error_column(failure.error) > 0u);
  BOOST_TEST(std::string_view(racking_error_source(failure.error)).ends_with("words.toml"));
  BOOST_TEST(std::string_view(racking_error_problem(failure.error, 1)).find("nor-this") !=
             std::string_view::npos);
  BOOST_TEST(racking_error_problem(failure.error, 2) == nullptr);
}

BOOST_AUTO_TEST_CASE(allows_null_where_it_says_so) {
  racking_reader_close(nullptr);
  racking_error_free(nullptr);
  racking_string_free(nullptr);
  BOOST_TEST(racking_error_status(nullptr) == RACKING_OK);
  BOOST_TEST(racking_lexicon_digest(nullptr) == nullptr);
}

BOOST_AUTO_TEST_SUITE_END()
