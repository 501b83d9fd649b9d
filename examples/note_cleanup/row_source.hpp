// Rows out of an input, whatever its format.
#pragma once

#include <memory>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>

#include "line_input.hpp"
#include "row.hpp"

namespace note_cleanup {

enum class InputFormat { csv, tsv, jsonl, lines, paragraphs };
std::string_view name_of(InputFormat) noexcept;

// A call that no input could make right, or a column that the input has not: exit code 2.
class UsageError : public std::runtime_error {
  using std::runtime_error::runtime_error;
};

struct RowOptions {
  std::string column;     // the notes' column or key; empty: find it
  std::string id_column;  // likewise
};

class RowSource {
 public:
  virtual ~RowSource() = default;
  // The next row, read or unread; `source` and `number` are left to the caller. False at the end.
  virtual bool next(Row& row) = 0;
  // What was settled, for the summary: "separator ;, notes from “note”, ids from “entry”".
  virtual std::string describe() const = 0;
};

// Throws UsageError if a named column is not there.
std::unique_ptr<RowSource> open_csv(LineInput&, const RowOptions&, bool tabs);
std::unique_ptr<RowSource> open_jsonl(LineInput&, const RowOptions&);
std::unique_ptr<RowSource> open_lines(LineInput&);
std::unique_ptr<RowSource> open_paragraphs(LineInput&);

}  // namespace note_cleanup
