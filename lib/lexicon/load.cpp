#include "lexicon/load.hpp"

#include <algorithm>
#include <array>
#include <atomic>
#include <exception>
#include <filesystem>
#include <fstream>
#include <future>
#include <optional>
#include <system_error>
#include <tuple>
#include <utility>

#include "lexicon/ordinary.hpp"

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
  std::string text;
  for (std::array<char, 65536> block; in.read(block.data(), block.size()), in.gcount() > 0;)
    text.append(block.data(), static_cast<std::size_t>(in.gcount()));
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

// What one file holds, by itself: files are parsed side by side.
struct Part {
  Source source;
  std::vector<Problem> problems;
  std::exception_ptr error;
};

Part load_file(const std::string& path) {
  Part part;
  try {
    const auto load = path.ends_with(words_extension) ? load_words : load_text;
    load(read_file(path), path, part.source, part.problems);
  } catch (...) {
    part.error = std::current_exception();
  }
  return part;
}

// Half of the time to load a lexicon is parsing, and a second thread halves that.
std::vector<Part> load_files(const std::vector<std::string>& paths) {
  constexpr std::size_t worth_a_thread = 8;
  std::vector<Part> parts(paths.size());
  std::atomic<std::size_t> next{0};
  const auto work = [&] {
    for (std::size_t at = next++; at < paths.size(); at = next++) parts[at] = load_file(paths[at]);
  };
  std::future<void> other;
  if (paths.size() >= worth_a_thread) {
    try {
      other = std::async(std::launch::async, work);
    } catch (const std::system_error&) {   // no thread to be had: this one does it all
    }
  }
  work();
  if (other.valid()) other.get();
  return parts;
}

// The places in `entry` are of the one file of its part; it is file `file` of the whole.
void move_to_file(Entry& entry, std::uint32_t file) {
  entry.place.file = file;
  for (Form& form : entry.forms) form.place.file = file;
  for (auto& [key, text] : entry.texts) text.place.file = file;
  for (auto& [key, texts] : entry.lists)
    for (Text& text : texts) text.place.file = file;
  for (auto& [key, place] : entry.places) place.file = file;
}

void append(Part&& part, Source& source, std::vector<Problem>& problems) {
  const auto file = static_cast<std::uint32_t>(source.files.size());
  for (std::string& name : part.source.files) source.files.push_back(std::move(name));
  for (Entry& entry : part.source.entries) {
    move_to_file(entry, file);
    source.entries.push_back(std::move(entry));
  }
  const auto known = static_cast<std::ptrdiff_t>(source.ordinary.size());
  source.ordinary.insert(source.ordinary.end(), part.source.ordinary.begin(),
                         part.source.ordinary.end());
  std::inplace_merge(source.ordinary.begin(), source.ordinary.begin() + known,
                     source.ordinary.end());
  for (Affix& affix : part.source.affixes) source.affixes.push_back(std::move(affix));
  const Source untitled;
  if (part.source.name != untitled.name) source.name = std::move(part.source.name);
  if (part.source.version != untitled.version) source.version = std::move(part.source.version);
  for (Problem& problem : part.problems) problems.push_back(std::move(problem));
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
      source.ordinary.push_back(ordinary_hash(line));
    else if (auto affix = affix_of(line))
      source.affixes.push_back(std::move(*affix));
    else
      problems.push_back({file, number, 1, "this line is no word in lower-case letters",
                          "write one word, an ending (\"-ies y\") or a prefix (\"un-\")"});
  }
  std::sort(source.ordinary.begin(), source.ordinary.end());   // here, beside other files' parsing
}

Source load_folder(const std::string& folder, std::vector<Problem>& problems) {
  Source source;
  for (Part& part : load_files(lexicon_files(folder))) {
    if (part.error) std::rethrow_exception(part.error);
    append(std::move(part), source, problems);
  }
  std::stable_sort(problems.begin(), problems.end(), [](const Problem& a, const Problem& b) {
    return std::tie(a.source, a.line, a.column) < std::tie(b.source, b.line, b.column);
  });
  return source;
}

}  // namespace racking::lexicon
