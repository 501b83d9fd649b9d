#include <boost/test/unit_test.hpp>

#include <cstring>
#include <random>

#include "lexicon/blob.hpp"
#include "lexicon/hash.hpp"
#include "unit/lexicon_support.hpp"

using namespace lexicon_test;

namespace {

// Makes the checksum right again, so that only the checks of indices stand in the way.
void seal(std::string& blob) {
  BlobHeader header;
  std::memcpy(&header, blob.data(), sizeof header);
  header.checksum = checksum(std::string_view(blob).substr(sizeof header));
  header.digest = hexadecimal(header.checksum);
  std::memcpy(blob.data(), &header, sizeof header);
}

// Uses everything that a lexicon offers; only that nothing is read out of bounds matters.
void walk(const Lexicon& lexicon) {
  for (std::size_t i = 0; i < lexicon.descriptor_count(); ++i) {
    const Descriptor one = lexicon.descriptor_at(i);
    BOOST_REQUIRE(one.path().size() <= lexicon.descriptor_count());
    lexicon.find_form(one.label());
    one.compounds();
    one.children();
    lexicon.similarity(one, lexicon.root());
  }
  try {
    lexicon.overlaid(Overlay::parse("[[descriptor]]\nid = \"zz\"\nparents = [\"currants\"]\n"
                                    "forms = [\"zz\"]\n"));
  } catch (const Error&) {
  }
}

}  // namespace

BOOST_AUTO_TEST_SUITE(lexicon_blob)

BOOST_AUTO_TEST_CASE(the_same_input_gives_the_same_bytes) {
  const Built one = build_text(estate + english), two = build_text(estate + english);
  BOOST_TEST((one.blob == two.blob));
  const Lexicon lexicon = Lexicon::from_blob(one.blob);
  BOOST_TEST((lexicon.to_blob() == one.blob));
  BOOST_TEST(lexicon.digest().size() == 16u);
  BOOST_TEST(lexicon.digest().find_first_not_of("0123456789abcdef") == std::string_view::npos);
  BOOST_TEST(Lexicon::from_blob(build_text(estate).blob).digest() != lexicon.digest());
}

BOOST_AUTO_TEST_CASE(every_changed_byte_is_noticed) {
  const std::string blob = build_text(estate + english).blob;
  for (std::size_t i = 0; i < blob.size(); ++i) {
    std::string bad = blob;
    bad[i] = static_cast<char>(bad[i] ^ 1);
    BOOST_CHECK_THROW(Lexicon::from_blob(bad), Error);
  }
  for (const std::size_t length : {std::size_t{0}, std::size_t{7}, sizeof(BlobHeader), blob.size() - 1})
    BOOST_CHECK_THROW(Lexicon::from_blob(std::string_view(blob).substr(0, length)), Error);
}

BOOST_AUTO_TEST_CASE(no_index_leaves_its_table) {
  const std::string blob = build_text(estate + english).blob;
  std::mt19937 random(7);
  int survived = 0;
  for (int round = 0; round < 20000; ++round) {
    std::string bad = blob;
    const std::size_t at = sizeof(BlobHeader) + random() % (bad.size() - sizeof(BlobHeader));
    switch (random() % 3) {
      case 0: bad[at] = static_cast<char>(random()); break;
      case 1: bad[at] = static_cast<char>(0xff); break;
      default: bad[at] = static_cast<char>(bad[at] + 1); break;
    }
    seal(bad);
    try {
      walk(Lexicon::from_blob(bad));
      ++survived;
    } catch (const Error& error) {
      BOOST_TEST((error.code() == ErrorCode::lexicon_corrupt));
    }
  }
  BOOST_TEST(survived > 0);
}

BOOST_AUTO_TEST_CASE(bytes_that_are_not_aligned_are_copied) {
  const std::string blob = build_text(estate).blob;
  const std::string shifted = "x" + blob;
  const auto lexicon = CompiledLexicon::from_static(std::string_view(shifted).substr(1));
  BOOST_TEST((lexicon->blob == blob));
  BOOST_TEST((lexicon->blob.data() != shifted.data() + 1));
}

BOOST_AUTO_TEST_CASE(hash_of_a_key_depends_on_all_of_it) {
  std::vector<std::uint64_t> seen;
  for (const std::string_view key : {"", "a", "b", "aa", "aaaaaaaa", "aaaaaaab", "aaaaaaaaa", "aaaaaaaab"})
    seen.push_back(hash_key(key));
  std::sort(seen.begin(), seen.end());
  BOOST_TEST((std::adjacent_find(seen.begin(), seen.end()) == seen.end()));
}

BOOST_AUTO_TEST_SUITE_END()
