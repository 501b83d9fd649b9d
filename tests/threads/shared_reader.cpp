// Many threads share one Reader, one Lexicon and one Note: what they read is what one thread reads.
// Runs under the thread sanitizer too.
#include <boost/test/unit_test.hpp>

#include <atomic>
#include <string>
#include <thread>
#include <vector>

#include "racking/racking.h"
#include "racking/racking.hpp"

namespace {

constexpr int thread_count = 8;
constexpr int rounds = 40;

const std::vector<std::string>& notes() {
  static const std::vector<std::string> all = {
      "Deep ruby, brick rim. Nose: cassis, a touch of cedar, no butter. Crisp acidity, grippy "
      "tannins, long finish. 13.5%.",
      "N - lemon and lime zest, wet stone. P - hi acid, 12 g/L, med(+) body. 17/20",
      "Crème brûlée, café, 🍷 — l’élan… pâle.",
      "Damp cardboard, fruit stripped out. Not corked? \xFF\xFE",
      "",
  };
  return all;
}

template <class Work>
void in_threads(Work work) {
  std::vector<std::thread> threads;
  for (int i = 0; i < thread_count; ++i) threads.emplace_back(work, i);
  for (std::thread& thread : threads) thread.join();
}

}  // namespace

BOOST_AUTO_TEST_SUITE(threads)

BOOST_AUTO_TEST_CASE(one_reader_for_all) {
  const racking::Reader reader;
  std::vector<std::string> expected;
  for (const std::string& note : notes()) expected.push_back(reader.read(note).to_json());
  std::atomic<int> differences{0};
  in_threads([&](int thread) {
    const racking::Reader copy = reader;
    for (int round = 0; round < rounds; ++round) {
      const std::size_t which = static_cast<std::size_t>(thread + round) % notes().size();
      const racking::Reader& either = round % 2 == 0 ? reader : copy;
      if (either.read(notes()[which]).to_json() != expected[which]) ++differences;
    }
  });
  BOOST_TEST(differences == 0);
}

BOOST_AUTO_TEST_CASE(one_note_for_all) {
  const racking::Reader reader;
  const racking::Note note = reader.read(notes()[0]);
  const std::string json = note.to_json(), tidy = note.tidy();
  std::atomic<int> differences{0};
  in_threads([&](int) {
    for (int round = 0; round < rounds; ++round) {
      const racking::Note copy = note;
      if (copy.to_json() != json || note.tidy() != tidy) ++differences;
    }
  });
  BOOST_TEST(differences == 0);
}

BOOST_AUTO_TEST_CASE(lexicons_open_and_grow_at_once) {
  const racking::Lexicon house = racking::Lexicon::house();
  const racking::Overlay overlay = racking::Overlay::parse(
      "[[descriptor]]\nid = \"quillberry\"\nparents = [\"hedgerow\"]\nforms = [\"quillberry\"]\n");
  std::atomic<int> failures{0};
  in_threads([&](int thread) {
    if (racking::Lexicon::house().digest() != house.digest()) ++failures;
    if (!house.find("blackcurrant") || !house.find_form("cassis")) ++failures;
    racking::Note unread;   // the wordless lexicon is made once, by whichever thread is first
    if (!unread.text().empty()) ++failures;
    if (thread % 4 != 0) return;
    const racking::Lexicon grown = house.overlaid(overlay);
    if (!grown.find("quillberry") || house.find("quillberry")) ++failures;
  });
  BOOST_TEST(failures == 0);
}

BOOST_AUTO_TEST_CASE(c_interface_shares_a_reader) {
  racking_reader* reader = nullptr;
  BOOST_REQUIRE_EQUAL(racking_reader_open(nullptr, nullptr, 0, 0, &reader, nullptr), RACKING_OK);
  std::atomic<int> failures{0};
  in_threads([&](int thread) {
    for (int round = 0; round < rounds; ++round) {
      const std::string& note = notes()[static_cast<std::size_t>(thread + round) % notes().size()];
      char* json = nullptr;
      racking_error* error = nullptr;
      if (racking_read_json(reader, note.data(), note.size(), nullptr, &json, nullptr, &error) !=
          RACKING_OK)
        ++failures;
      racking_string_free(json);
      racking_error_free(error);
    }
  });
  BOOST_TEST(failures == 0);
  racking_reader_close(reader);
}

BOOST_AUTO_TEST_SUITE_END()
