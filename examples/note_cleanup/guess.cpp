#include "guess.hpp"

#include <simdjson.h>

#include <algorithm>
#include <string>
#include <vector>

#include "columns.hpp"
#include "csv_parser.hpp"
#include "ill_formed.hpp"

namespace note_cleanup {
namespace {

std::string extension(std::string_view name) {
  const std::size_t dot = name.rfind('.');
  if (dot == std::string_view::npos || name.find('/', dot) != std::string_view::npos) return {};
  std::string extension(name.substr(dot + 1));
  std::transform(extension.begin(), extension.end(), extension.begin(), [](unsigned char c) {
    return static_cast<char>(c >= 'A' && c <= 'Z' ? c + 32 : c);
  });
  return extension;
}

bool is_json_object(std::string_view line) {
  simdjson::dom::parser parser;
  const simdjson::padded_string padded(is_well_formed(line) ? std::string(line)
                                                            : protect_ill_formed(line));
  simdjson::dom::object object;
  return !parser.parse(padded).get(object);
}

// Every line begins as an object does, and one of the first few is one; the others may be
// broken. A line longer than the sample is taken at its word.
bool has_json_lines(std::string_view sample) {
  for (int looked = 0; looked < 10;) {
    const std::size_t from = sample.find_first_not_of(" \t\r\n");
    if (from == std::string_view::npos || sample[from] != '{') return false;
    const std::size_t end = sample.find_first_of("\r\n", from);
    if (end == std::string_view::npos && sample.size() >= sample_size) return true;
    if (is_json_object(sample.substr(from, end - from))) return true;
    if (end == std::string_view::npos) return false;
    sample.remove_prefix(end);
    ++looked;
  }
  return false;
}

// Prose has commas too, so a table must have headings: one that names the notes, and at least
// one other.
bool has_headings(std::string_view sample, char& separator) {
  std::size_t columns = 0;
  separator = guess_separator(sample, columns);
  if (columns < 2) return false;
  const auto rows = parse_sample(sample, separator);
  const auto& first = rows.front();
  const bool notes = std::any_of(first.begin(), first.end(), [](const auto& name) {
    const int rank = note_heading_rank(name);
    return rank != 0 && rank < 100;
  });
  const bool others = std::any_of(first.begin(), first.end(), [](const auto& name) {
    return id_heading_rank(name) != 0 || is_common_heading(name);
  });
  const bool short_names =
      std::all_of(first.begin(), first.end(), [](const auto& name) { return name.size() <= 40; });
  return notes && short_names && (others || rows.size() == 1 || rows[1].size() == first.size());
}

// A table by its say-so: the headings hold the columns that were asked for. Sets the separator.
bool has_columns(std::string_view sample, const RowOptions& asked, char& separator) {
  std::size_t columns = 0;
  separator = guess_separator(sample, columns);
  const auto rows = parse_sample(sample, separator);
  if (rows.empty()) return false;
  const auto found = [&](const std::string& name) {
    return name.empty() || find_named(rows.front(), name, false).has_value();
  };
  return found(asked.column) && found(asked.id_column);
}

// Paragraphs are told by the blank lines between them: nearly every pair of notes has one.
bool has_paragraphs(std::string_view sample) {
  std::size_t lines = 0;
  std::size_t breaks = 0;
  bool blank = false;
  while (!sample.empty()) {
    std::size_t end = sample.find_first_of("\r\n");
    if (end == std::string_view::npos) end = sample.size();
    const std::string_view line = sample.substr(0, end);
    end += sample.substr(end, 2) == "\r\n" ? 2 : sample.size() > end ? 1 : 0;
    sample.remove_prefix(end);
    if (is_blank(line)) {
      blank = lines > 0;
    } else {
      ++lines;
      breaks += blank ? 1 : 0;
      blank = false;
    }
  }
  return breaks > 0 && breaks * 6 >= lines - 1;
}

}  // namespace

InputFormat guess_format(std::string_view name, std::string_view sample, const RowOptions& asked) {
  const std::string kind = extension(name);
  if (has_json_lines(sample)) return InputFormat::jsonl;
  if (kind == "csv") return InputFormat::csv;
  if (kind == "tsv" || kind == "tab") return InputFormat::tsv;
  if (kind == "jsonl" || kind == "ndjson" || kind == "json") return InputFormat::jsonl;
  char separator = ',';
  if (has_headings(sample, separator)) {
    return separator == '\t' ? InputFormat::tsv : InputFormat::csv;
  }
  if (!asked.column.empty() || !asked.id_column.empty()) {
    if (has_columns(sample, asked, separator))
      return separator == '\t' ? InputFormat::tsv : InputFormat::csv;
    throw UsageError(std::string(name) +
                     ": --column and --id-column are for tables and JSON Lines, and this looks like "
                     "plain text; if it is none, say --from csv, tsv or jsonl");
  }
  return has_paragraphs(sample) ? InputFormat::paragraphs : InputFormat::lines;
}

}  // namespace note_cleanup
