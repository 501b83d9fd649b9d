#include "lexicon/load.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <system_error>
#include <tuple>

namespace racking::lexicon {
namespace {

namespace fs = std::filesystem;

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

// In the order of paths with '/' between folders, the same on every system.
std::vector<std::string> toml_files(const std::string& folder) {
  std::error_code error;
  std::vector<std::string> paths;
  fs::recursive_directory_iterator walk(folder, fs::directory_options::follow_directory_symlink,
                                        error);
  for (; !error && walk != fs::recursive_directory_iterator(); walk.increment(error))
    if (walk->path().extension() == ".toml" && walk->is_regular_file(error))
      paths.push_back(walk->path().generic_string());
  if (error) unreadable(folder, error.message());
  std::sort(paths.begin(), paths.end());
  return paths;
}

}  // namespace

Source load_folder(const std::string& folder, std::vector<Problem>& problems) {
  Source source;
  for (const std::string& path : toml_files(folder))
    load_text(read_file(path), path, source, problems);
  std::stable_sort(problems.begin(), problems.end(), [](const Problem& a, const Problem& b) {
    return std::tie(a.source, a.line, a.column) < std::tie(b.source, b.line, b.column);
  });
  return source;
}

}  // namespace racking::lexicon
