// Any text as a lexicon file, and any bytes as a compiled lexicon: they load, or throw Error.
// The first byte chooses: a whole lexicon, an overlay on a small one, a damaged blob, or a list
// of words.
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <string>
#include <string_view>
#include <vector>

#include "lexicon/blob.hpp"
#include "lexicon/build.hpp"
#include "lexicon/hash.hpp"
#include "lexicon/load.hpp"
#include "racking/racking.hpp"

namespace {

using namespace racking;

constexpr std::string_view small_lexicon = R"(
[[family]]
id = "hedgerow"
[[descriptor]]
id = "blackcurrant"
parents = ["hedgerow"]
forms = ["blackcurrant", "cassis"]
[[inflection]]
kind = "plural"
ending = "y"
after = "consonant"
replace = "ies"
[[inflection]]
kind = "plural"
ending = ""
replace = "s"
[[cue]]
id = "negation.no"
role = "forward"
sets = {stance = "denied"}
forms = ["no", "not {sense} {sense?} {any|a bit of} {*?} cassis"]
stops = ["clause"]
[[slot]]
id = "sense"
words = ["see", "smell"]
[[slot]]
id = "more"
slots = ["sense"]
words = ["thirteen", "no", "crème", "soft"]
names = ["grape"]
[[known]]
class = "talk"
forms = ["{more} casiss", "crisp {more} {*} {more}", "{sense}"]
)";

void require(bool holds, const char* promise) {
  if (holds) return;
  std::fprintf(stderr, "broken: %s\n", promise);
  std::abort();
}

void read_with(const Lexicon& lexicon) {
  const Reader reader(lexicon);
  const Note note = reader.read(
      "No cassis, 13.5%, brick rim; crisp acidity and soft tannins. Casiss, blakcurant, currents.");
  (void)note.to_json();
}

// Any text as a list of words: every line is a word, an affix, or a problem.
void as_words(std::string_view list) {
  lexicon::Source source;
  std::vector<Problem> problems;
  lexicon::load_text(small_lexicon, "small.toml", source, problems);
  lexicon::load_words(list, "fuzz.words", source, problems);
  problems.clear();
  read_with(Lexicon::from_blob(lexicon::build(source, nullptr, problems)));
  require(problems.empty(), "a list of words never fails a build");
}

void as_whole(std::string_view toml) {
  lexicon::Source source;
  std::vector<Problem> problems;
  lexicon::load_text(toml, "fuzz.toml", source, problems);
  if (!problems.empty()) {
    for (const Problem& problem : problems) {
      require(!problem.message.empty(), "a problem says what is wrong");
      require(problem.line > 0, "a problem of form has its line");
    }
    return;
  }
  const std::string blob = lexicon::build(source, nullptr, problems);
  require(blob.empty() == !problems.empty(), "a blob, or problems");
  if (!blob.empty()) read_with(Lexicon::from_blob(blob));
}

Lexicon small() {
  lexicon::Source source;
  std::vector<Problem> problems;
  lexicon::load_text(small_lexicon, "small.toml", source, problems);
  lexicon::load_words("current\nplum\n-s\n-ies y\nun-\n", "small.words", source, problems);
  const std::string blob = lexicon::build(source, nullptr, problems);
  for (const Problem& problem : problems) std::fprintf(stderr, "%s\n", problem.to_string().c_str());
  require(problems.empty(), "the small lexicon builds");
  return Lexicon::from_blob(blob);
}

void as_overlay(std::string_view toml) {
  static const Lexicon base = small();
  try {
    read_with(base.overlaid(Overlay::parse(toml)));
  } catch (const Error& error) {
    require(error.code() == ErrorCode::lexicon_invalid, "a bad overlay is invalid");
    require(!error.problems().empty(), "it lists its problems");
  }
}

// Makes the size and the checksum right again, so that the checks behind them are reached.
void mend_header(std::string& blob) {
  if (blob.size() < sizeof(lexicon::BlobHeader)) return;
  lexicon::BlobHeader header;
  std::memcpy(&header, blob.data(), sizeof header);
  header.size = blob.size();
  header.checksum = lexicon::checksum(std::string_view(blob).substr(sizeof header));
  std::memcpy(blob.data(), &header, sizeof header);
}

// Each three bytes of input change one byte of a good blob; what passes must be safe to use.
void as_blob(const std::uint8_t* data, std::size_t size) {
  static const std::string good = small().to_blob();
  std::string blob = good;
  for (std::size_t i = 0; i + 2 < size; i += 3)
    blob[(data[i] | std::size_t{data[i + 1]} << 8) % blob.size()] = static_cast<char>(data[i + 2]);
  if (size % 3 == 1) blob.resize(blob.size() * data[size - 1] / 256);
  if (size % 2 == 0) mend_header(blob);
  try {
    read_with(Lexicon::from_blob(blob));
  } catch (const Error& error) {
    require(error.code() == ErrorCode::lexicon_corrupt ||
                error.code() == ErrorCode::lexicon_invalid,
            "a damaged blob is corrupt");
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  const std::string_view rest(reinterpret_cast<const char*>(data + 1), size - 1);
  switch (data[0] % 4) {
    case 0: as_whole(rest); break;
    case 1: as_overlay(rest); break;
    case 3: as_words(rest); break;
    default: as_blob(data + 1, size - 1); break;
  }
  return 0;
}
