#include "lexicons.hpp"

#include <filesystem>

namespace note_cleanup {

racking::Lexicon lexicon_with(const racking::Lexicon& base, const std::string& folder) {
  std::error_code ignored;
  if (std::filesystem::exists(std::filesystem::path(folder) / "lexicon.toml", ignored)) {
    return racking::Lexicon::load(folder);
  }
  return base.overlaid(racking::Overlay::load(folder));
}

racking::Lexicon load_lexicons(const std::vector<std::string>& folders) {
  racking::Lexicon lexicon = racking::Lexicon::house();
  for (const auto& folder : folders) lexicon = lexicon_with(lexicon, folder);
  return lexicon;
}

std::vector<racking::Problem> check_lexicon(const std::vector<std::string>& below,
                                            const std::string& folder, std::string& about) {
  try {
    const racking::Lexicon lexicon = lexicon_with(load_lexicons(below), folder);
    about = std::to_string(lexicon.descriptor_count()) + " descriptors and " +
            std::to_string(lexicon.descriptor_form_count()) + " ways of writing them; " +
            std::to_string(lexicon.phrase_count()) + " entries for structure and " +
            std::to_string(lexicon.phrase_form_count()) + " phrases that say them, in all";
    return racking::check_examples(folder, racking::Reader(lexicon));
  } catch (const racking::Error& error) {
    if (!error.problems().empty()) return error.problems();
    return {{error.source().empty() ? folder : error.source(), error.line(), error.column(),
             error.message(), ""}};
  }
}

}  // namespace note_cleanup
