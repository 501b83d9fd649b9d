#include "lexicon/load.hpp"
#include "racking/reader.hpp"
#include "study/markup.hpp"

namespace racking {
inline namespace v1 {

std::vector<Problem> check_examples(const std::string& folder, const Reader& reader) {
  std::vector<Problem> problems;
  const lexicon::Source source = lexicon::load_folder(folder, problems);
  for (const lexicon::Entry& entry : source.entries) {
    const auto examples = entry.lists.find("examples");
    if (examples == entry.lists.end()) continue;
    for (const lexicon::Text& example : examples->second) {
      const auto report = [&](const std::string& what) {
        problems.push_back({source.files[example.place.file], example.place.line,
                            example.place.column, "the example does not read as marked: " + what,
                            "mend the mark-up, the entry or the rule"});
      };
      try {
        const study::MarkedText expected = study::parse_marked(example.value);
        for (const std::string& mistake :
             study::compare(expected, reader.read(expected.text)).mistakes)
          report(mistake);
      } catch (const Error& error) {
        report(error.message());
      }
    }
  }
  return problems;
}

}  // namespace v1
}  // namespace racking
