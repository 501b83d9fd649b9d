#include "lexicon/load.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <optional>
#include <system_error>
#include <tuple>
#include <utility>

namespace racking::lexicon {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view words_extension = ".words";

[[noreturn]] void unreadable(const std::string& path, const std::string& why) {
  throw Error(ErrorCode::lexicon_unreadable, path + ": cannot be read: " + why);
}

std::string read_file(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  if (!in) unreadable(path, "it does not open");
  std::string text{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
  if (in.bad()) unreadable(path, "reading stopped short");
  return text;
}

bool is_plain(std::string_view word) {
  return std::all_of(word.begin(), word.end(), [](char c) { return c >= 'a' && c <= 'z'; });
}

// "-ies y", "-ly" or "un-".
std::optional<Affix> affix_of(std::string_view line) {
  if (line.ends_with('-') && line.size() > 1 && is_plain(line.substr(0, line.size() - 1)))
    return Affix{std::string(line.substr(0, line.size() - 1)), {}, true};
  if (!line.starts_with('-')) return std::nullopt;
  const std::size_t space = std::min(line.find(' '), line.size());
  const std::string_view ending = line.substr(1, space - 1);
  const std::string_view replace = line.substr(std::min(space + 1, line.size()));
  if (ending.empty() || !is_plain(ending) || !is_plain(replace)) return std::nullopt;
  return Affix{std::string(ending), std::string(replace), false};
}

// In the order of paths with '/' between folders, the same on every system.
std::vector<std::string> lexicon_files(const std::string& folder) {
  std::error_code error;
  std::vector<std::string> paths;
  fs::recursive_directory_iterator walk(folder, fs::directory_options::follow_directory_symlink,
                                        error);
  for (; !error && walk != fs::recursive_directory_iterator(); walk.increment(error))
    if ((walk->path().extension() == ".toml" || walk->path().extension() == words_extension) &&
        walk->is_regular_file(error))
      paths.push_back(walk->path().generic_string());
  if (error) unreadable(folder, error.message());
  std::sort(paths.begin(), paths.end());
  return paths;
}

}  // namespace

void load_words(std::string_view list, const std::string& file, Source& source,
                std::vector<Problem>& problems) {
  source.files.push_back(file);
  std::uint32_t number = 1;
  for (std::size_t begin = 0; begin < list.size(); ++number) {
    const std::size_t end = std::min(list.find('\n', begin), list.size());
    std::string_view line = list.substr(begin, end - begin);
    if (line.ends_with('\r')) line.remove_suffix(1);
    begin = end + 1;
    if (line.empty() || line.starts_with('#')) continue;
    if (is_plain(line))
      source.ordinary.emplace_back(line);
    else if (auto affix = affix_of(line))
      source.affixes.push_back(std::move(*affix));
    else
      problems.push_back({file, number, 1, "this line is no word in lower-case letters",
                          "write one word, an ending (\"-ies y\") or a prefix (\"un-\")"});
  }
}

Source load_folder(const std::string& folder, std::vector<Problem>& problems) {
  Source source;
  for (const std::string& path : lexicon_files(folder)) {
    const auto load = path.ends_with(words_extension) ? load_words : load_text;
    load(read_file(path), path, source, problems);
  }
  std::stable_sort(problems.begin(), problems.end(), [](const Problem& a, const Problem& b) {
    return std::tie(a.source, a.line, a.column) < std::tie(b.source, b.line, b.column);
  });
  return source;
}

}  // namespace racking::lexicon
