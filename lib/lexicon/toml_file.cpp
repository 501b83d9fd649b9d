// The only file that knows toml++.
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <utility>

#define TOML_EXCEPTIONS 0
#define TOML_ENABLE_FORMATTERS 0
#define TOML_HEADER_ONLY 1
#include <toml++/toml.h>

#include "lexicon/load.hpp"
#include "lexicon/shape.hpp"
#include "lexicon/suggest.hpp"
#include "text/fold.hpp"

namespace racking::lexicon {
namespace {

std::string quoted(std::string_view word) { return "'" + std::string(word) + "'"; }

// Reads one document into a Source. toml++ counts columns in code points, as we do.
class Reader {
 public:
  Reader(std::uint32_t file, Source& source, std::vector<Problem>& problems)
      : file_(file), source_(source), problems_(problems) {}

  void read(const toml::table& document);
  Place place_of(const toml::source_region& region) const {
    return {file_, region.begin.line, region.begin.column};
  }
  void report(const Place& place, std::string message, std::string mend) {
    problems_.push_back({source_.files[file_], place.line, place.column, std::move(message),
                         std::move(mend)});
  }

 private:
  void read_title(const toml::key& key, const toml::node& value);
  void read_entry(const Kind& kind, const toml::table& table);
  void read_value(const Key& key, const std::string& name, const toml::node& value, Entry& entry);
  bool read_texts(const Key& key, const std::string& name, const toml::node& value, Entry& entry);
  bool read_steps(const std::string& name, const toml::node& value, Entry& entry);
  void read_sets(const toml::table& table, Entry& entry);
  void check_member(const Key& key, const std::string& value, const Place& place);
  void unknown_key(const toml::key& key, std::string_view where, std::span<const Key> keys);

  std::uint32_t file_;
  Source& source_;
  std::vector<Problem>& problems_;
};

const Key* find_key(std::span<const Key> keys, std::string_view name) {
  for (const Key& key : keys)
    if (key.name == name) return &key;
  return nullptr;
}

bool is_title_file(const std::string& file) {
  return file.substr(file.find_last_of('/') + 1) == "lexicon.toml";
}

void Reader::read(const toml::table& document) {
  std::vector<std::string_view> names;
  for (const Kind& kind : kinds()) names.push_back(kind.name);
  for (const auto& [key, value] : document) {
    const Place place = place_of(key.source());
    if ((key == "name" || key == "version") && is_title_file(source_.files[file_])) {
      read_title(key, value);
      continue;
    }
    const Kind* kind = find_kind(key.str());
    if (kind == nullptr) {
      report(place, "unknown kind of entry " + quoted(key.str()),
             suggestion(key.str(), names, "see lexicon/README.md"));
      continue;
    }
    const toml::array* tables = value.as_array();
    if (tables == nullptr || !tables->is_homogeneous(toml::node_type::table)) {
      report(place, quoted(key.str()) + " is not a list of entries",
             "write [[" + std::string(key.str()) + "]], with two brackets");
      continue;
    }
    for (const toml::node& table : *tables) read_entry(*kind, *table.as_table());
  }
}

void Reader::read_title(const toml::key& key, const toml::node& value) {
  if (!value.is_string()) {
    report(place_of(value.source()), quoted(key.str()) + " must be a string",
           "put it in double quotes");
    return;
  }
  (key == "name" ? source_.name : source_.version) = value.as_string()->get();
}

void Reader::unknown_key(const toml::key& key, std::string_view where, std::span<const Key> keys) {
  std::vector<std::string_view> names;
  for (const Key& known : keys) names.push_back(known.name);
  report(place_of(key.source()),
         "unknown key " + quoted(key.str()) + " in " + std::string(where),
         suggestion(key.str(), names, "remove it"));
}

void Reader::read_entry(const Kind& kind, const toml::table& table) {
  Entry entry;
  entry.kind = kind.name;
  entry.place = place_of(table.source());
  for (const auto& [key, value] : table) {
    const Key* known = find_key(kind.keys, key.str());
    if (known == nullptr) {
      unknown_key(key, "[[" + entry.kind + "]]", kind.keys);
      continue;
    }
    entry.places.emplace(key.str(), place_of(key.source()));
    read_value(*known, std::string(key.str()), value, entry);
  }
  for (const Key& key : kind.keys)
    if (key.required && !entry.places.contains(key.name))
      report(entry.place, "[[" + entry.kind + "]] has no " + quoted(key.name),
             "add " + std::string(key.name) + " = " + std::string(describe(key.type)));
  source_.entries.push_back(std::move(entry));
}

void Reader::check_member(const Key& key, const std::string& value, const Place& place) {
  if (key.list == ClosedList::any || position(key.list, value) >= 0) return;
  report(place, quoted(value) + " is no value of " + quoted(key.name),
         suggestion(value, members(key.list), "see the closed lists"));
}

void Reader::read_value(const Key& key, const std::string& name, const toml::node& value,
                        Entry& entry) {
  const Place place = place_of(value.source());
  bool good = false;
  switch (key.type) {
    case ValueType::text:
      if (const auto* string = value.as_string()) {
        check_member(key, string->get(), place);
        entry.texts.emplace(name, Text{string->get(), place});
        good = true;
      }
      break;
    case ValueType::texts: case ValueType::nouns: case ValueType::adjectives:
    case ValueType::fixed_forms:
      good = read_texts(key, name, value, entry);
      break;
    case ValueType::steps:
      good = read_steps(name, value, entry);
      break;
    case ValueType::number:
      if (const auto number = value.value<double>(); number && value.is_number()) {
        if (std::isfinite(*number)) entry.numbers.emplace(name, *number);
        good = std::isfinite(*number);
      }
      break;
    case ValueType::boolean:
      if (const auto* flag = value.as_boolean()) {
        entry.numbers.emplace(name, flag->get() ? 1.0 : 0.0);
        good = true;
      }
      break;
    case ValueType::sets:
      if (const auto* table = value.as_table()) {
        read_sets(*table, entry);
        good = true;
      }
      break;
  }
  if (!good)
    report(place, quoted(key.name) + " must be " + std::string(describe(key.type)),
           key.type == ValueType::steps ? "write [2, 3], the lower first"
           : value.is_string()          ? "put it in brackets: [\"…\"]"
                                        : "see lexicon/README.md");
}

// A lone string is taken for a list of one inside `sets`, where "ripe" reads better.
bool Reader::read_texts(const Key& key, const std::string& name, const toml::node& value,
                        Entry& entry) {
  Texts texts;
  if (const auto* one = value.as_string(); one != nullptr && name.starts_with("sets.")) {
    texts.push_back({one->get(), place_of(value.source())});
  } else {
    const toml::array* array = value.as_array();
    if (array == nullptr) return false;
    for (const toml::node& item : *array) {
      const auto* string = item.as_string();
      if (string == nullptr) return false;
      texts.push_back({string->get(), place_of(item.source())});
    }
  }
  for (const Text& text : texts) check_member(key, text.value, text.place);
  if (key.type != ValueType::texts) {
    const auto kind = key.type == ValueType::nouns        ? Form::Kind::noun
                      : key.type == ValueType::adjectives ? Form::Kind::adjective
                                                          : Form::Kind::fixed;
    for (const Text& text : texts) entry.forms.push_back({text.value, text.place, kind});
  }
  entry.lists.emplace(name, std::move(texts));
  return true;
}

bool Reader::read_steps(const std::string& name, const toml::node& value, Entry& entry) {
  const toml::array* array = value.as_array();
  if (array == nullptr || array->size() != 2) return false;
  const auto* low = array->get(0)->as_integer();
  const auto* high = array->get(1)->as_integer();
  if (low == nullptr || high == nullptr) return false;
  if (low->get() < 1 || high->get() > 5 || low->get() > high->get()) return false;
  entry.ranges.emplace(name, std::pair(static_cast<int>(low->get()), static_cast<int>(high->get())));
  return true;
}

void Reader::read_sets(const toml::table& table, Entry& entry) {
  for (const auto& [key, value] : table) {
    const Key* known = find_key(set_keys(), key.str());
    if (known == nullptr) {
      unknown_key(key, "'sets'", set_keys());
      continue;
    }
    const std::string name = "sets." + std::string(key.str());
    entry.places.emplace(name, place_of(key.source()));
    read_value(*known, name, value, entry);
  }
}

// The file's text line by line: what is not NFC would never match a note.
void check_nfc(std::string_view text, Reader& reader) {
  if (text::is_nfc(text)) return;
  std::uint32_t line = 1;
  for (std::size_t begin = 0; begin <= text.size(); ++line) {
    const std::size_t end = std::min(text.find('\n', begin), text.size());
    const std::string_view row = text.substr(begin, end - begin);
    if (!text::is_nfc(row)) {
      std::uint32_t column = 1;   // of the first word that is not
      for (std::size_t at = 0; at < row.size();) {
        const std::size_t stop = std::min(row.find(' ', at), row.size());
        const std::string_view word = row.substr(at, stop - at);
        if (!text::is_nfc(word)) break;
        for (const char c : word) column += (static_cast<unsigned char>(c) & 0xc0u) != 0x80u;
        ++column;
        at = stop + 1;
      }
      reader.report({0, line, column}, "the text is not in Unicode normalization form C",
                    "write accented letters as one character each");
    }
    begin = end + 1;
  }
}

// Entries of one kind stand together in a parsed table; put all back in the order written.
void in_order_of_lines(Source& source, std::size_t first) {
  std::stable_sort(source.entries.begin() + static_cast<std::ptrdiff_t>(first),
                   source.entries.end(), [](const Entry& a, const Entry& b) {
                     return std::pair(a.place.line, a.place.column) <
                            std::pair(b.place.line, b.place.column);
                   });
}

// Blanks the entry that `line` is in, so that the rest of the file can be read, and every
// other problem reported, with its lines unchanged. False if there is nothing to blank.
bool blank_entry(std::string& toml, std::uint32_t line) {
  std::size_t begin = 0, end = toml.size(), at = 0;
  for (std::uint32_t number = 1; at < toml.size(); ++number) {
    const bool opens = toml.compare(at, 2, "[[") == 0;
    if (opens && number <= line) begin = at;
    if (opens && number > line) {
      end = at;
      break;
    }
    at = std::min(toml.find('\n', at), toml.size() - 1) + 1;
  }
  bool changed = false;
  for (std::size_t i = begin; i < end; ++i)
    if (toml[i] != '\n' && toml[i] != ' ') {
      toml[i] = ' ';
      changed = true;
    }
  return changed;
}

}  // namespace

void load_text(std::string_view toml, const std::string& file, Source& source,
               std::vector<Problem>& problems) {
  const auto index = static_cast<std::uint32_t>(source.files.size());
  source.files.push_back(file);
  Reader reader(index, source, problems);
  toml::parse_result parsed = toml::parse(toml, file);
  std::string rest;
  for (int attempt = 0; !parsed && attempt < 4; ++attempt) {
    const Place place = reader.place_of(parsed.error().source());
    if (attempt == 0) {
      reader.report(place, "TOML syntax: " + std::string(parsed.error().description()),
                    "mend the entry here; it was left out");
      rest = toml;
    }
    if (!blank_entry(rest, place.line)) return;
    parsed = toml::parse(std::string_view(rest), file);
  }
  if (!parsed) return;
  const std::size_t first = source.entries.size();
  check_nfc(rest.empty() ? toml : std::string_view(rest), reader);
  reader.read(parsed.table());
  in_order_of_lines(source, first);
}

}  // namespace racking::lexicon
