// Decoded text, a line at a time.
#pragma once

#include <string>
#include <string_view>

#include "encoding.hpp"

namespace note_cleanup {

struct Line {
  std::string_view text;  // with its line end; valid until the next call
  std::size_t number = 0;
  bool too_long = false;  // above `row_limit`: only its beginning is here

  // Without the line end.
  std::string_view content() const noexcept;
};

class LineInput {
 public:
  explicit LineInput(TextInput& text) : text_(text) {}

  // Lines end at LF, CR LF or CR alone. False at the end.
  bool next(Line& line);
  // What comes next, `size` bytes of it or all that is left.
  std::string_view peek(std::size_t size);

 private:
  bool more();
  std::size_t find_end(std::size_t from);
  void skip_line();

  TextInput& text_;
  std::string buffer_;
  std::string skipped_;  // the beginning of a line too long to hold
  std::size_t at_ = 0;
  std::size_t number_ = 0;
  bool ended_ = false;
};

bool is_blank(std::string_view text) noexcept;

}  // namespace note_cleanup
