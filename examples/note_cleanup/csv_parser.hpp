// libcsv behind a C++ face: lines in, rows of fields out.
#pragma once

#include <csv.h>

#include <string>
#include <string_view>
#include <vector>

namespace note_cleanup {

class CsvParser {
 public:
  explicit CsvParser(char separator);
  ~CsvParser();
  CsvParser(const CsvParser&) = delete;
  CsvParser& operator=(const CsvParser&) = delete;

  // Takes a line with its end. True once a row is complete: see `fields`. A blank line
  // between rows completes nothing.
  bool add(std::string_view line);
  // The end of the input. True if that completes a row; `open_quote` says that a quoted
  // field was still open.
  bool finish(bool& open_quote);
  // Forgets a row begun.
  void restart();

  // Of the row just completed.
  const std::vector<std::string>& fields() const noexcept { return fields_; }

 private:
  bool take();

  csv_parser parser_{};
  char separator_;
  bool complete_ = false;
  std::vector<std::string> fields_;
  std::vector<std::string> coming_;
};

// The separator (of , ; and tab) that cuts `sample` into the most even table; a comma if none
// cuts it. `columns` receives how many columns that gives.
char guess_separator(std::string_view sample, std::size_t& columns);
// The rows of a sample; the last is left out if it is cut short.
std::vector<std::vector<std::string>> parse_sample(std::string_view sample, char separator);

// Whether a row of several lines has a stray quote and, on a later line, a quote that opens a
// field: a quote that should have closed was forgotten, and other rows are inside this one.
bool swallows_rows(std::string_view row, char separator);

// One field, quoted where it has to be.
void append_csv(std::string& out, std::string_view field);

}  // namespace note_cleanup
