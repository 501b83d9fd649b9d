// One note on its way through: as it stood in the input, and what was made of it.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace note_cleanup {

// Something that was done to a note before it was read; becomes one of the record's `problems`.
struct Change {
  std::string code;
  std::string message;
};

struct Row {
  std::string_view source;  // the input's name; lives as long as the run
  std::size_t line = 0;     // where the row starts, from 1
  std::size_t number = 0;   // which row of its input, from 1
  std::string id;
  std::string text;
  std::string raw;     // the row as it stood, after decoding
  std::string unread;  // why it could not be read; empty if it could
  std::vector<Change> changes;
};

// The longest line or row that is held in memory; above it a row is unread.
inline constexpr std::size_t row_limit = std::size_t{32} << 20;

}  // namespace note_cleanup
