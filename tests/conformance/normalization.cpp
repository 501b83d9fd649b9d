// is_nfc and the folds against NormalizationTest.txt of Unicode 15.0 (Debian
// unicode-data): columns are source, NFC, NFD, NFKC, NFKD.
#include <boost/test/unit_test.hpp>

#include <array>
#include <cstdio>
#include <memory>
#include <sstream>
#include <string>
#include <vector>

#include "text/fold.hpp"
#include "text/utf8.hpp"
#include "unicode_data.hpp"

namespace {

using Columns = std::array<std::string, 5>;

std::string decompressed(const std::string& path) {
  std::string text;
  const std::unique_ptr<std::FILE, int (*)(std::FILE*)> pipe(
      popen(("bzcat '" + path + "'").c_str(), "r"), &pclose);
  BOOST_REQUIRE(pipe != nullptr);
  std::array<char, 65536> block;
  for (std::size_t got = 0; (got = std::fread(block.data(), 1, block.size(), pipe.get())) > 0;) {
    text.append(block.data(), got);
  }
  return text;
}

std::vector<Columns> normalization_cases() {
  std::istringstream file(decompressed(racking::tests::unicode_data("NormalizationTest.txt.bz2")));
  std::vector<Columns> cases;
  for (std::string line; std::getline(file, line);) {
    if (line.empty() || line[0] == '#' || line[0] == '@') continue;
    Columns columns;
    std::istringstream fields(line);
    for (std::string& column : columns) {
      std::string field;
      std::getline(fields, field, ';');
      std::istringstream words(field);
      for (std::string word; words >> word;) {
        racking::text::append(column, static_cast<char32_t>(std::stoul(word, nullptr, 16)));
      }
    }
    cases.push_back(columns);
  }
  return cases;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(normalization_conformance)

BOOST_AUTO_TEST_CASE(is_nfc_tells_composed_from_other_text) {
  const std::vector<Columns> cases = normalization_cases();
  BOOST_REQUIRE_GT(cases.size(), 15000U);
  for (const auto& [source, nfc, nfd, nfkc, nfkd] : cases) {
    BOOST_REQUIRE_MESSAGE(racking::text::is_nfc(nfc), "NFC of " << source);
    BOOST_REQUIRE_MESSAGE(racking::text::is_nfc(nfkc), "NFKC of " << source);
    BOOST_REQUIRE_MESSAGE(racking::text::is_nfc(source) == (source == nfc), "source " << source);
    BOOST_REQUIRE_MESSAGE(racking::text::is_nfc(nfd) == (nfd == nfc), "NFD of " << source);
  }
}

BOOST_AUTO_TEST_CASE(canonically_equal_text_folds_alike_and_to_nfc) {
  using racking::text::fold;
  using racking::text::fold_exact;
  for (const auto& [source, nfc, nfd, nfkc, nfkd] : normalization_cases()) {
    const std::string exact = fold_exact(nfc);
    const std::string plain = fold(nfc);
    BOOST_REQUIRE_MESSAGE(fold_exact(source) == exact && fold_exact(nfd) == exact, "exact " << source);
    BOOST_REQUIRE_MESSAGE(fold(source) == plain && fold(nfd) == plain, "plain " << source);
    BOOST_REQUIRE_MESSAGE(fold_exact(nfkc) == fold_exact(nfkd), "compatibility " << source);
    BOOST_REQUIRE_MESSAGE(racking::text::is_nfc(exact) && racking::text::is_nfc(plain), "NFC " << source);
    BOOST_REQUIRE_MESSAGE(fold_exact(exact) == exact, "exact twice " << source);
    BOOST_REQUIRE_MESSAGE(fold(plain) == plain && fold(exact) == plain, "plain twice " << source);
  }
}

BOOST_AUTO_TEST_SUITE_END()
