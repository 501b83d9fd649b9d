#include "line_input.hpp"

#include "row.hpp"

namespace note_cleanup {

std::string_view Line::content() const noexcept {
  std::string_view content = text;
  if (content.ends_with('\n')) content.remove_suffix(1);
  if (content.ends_with('\r')) content.remove_suffix(1);
  return content;
}

bool is_blank(std::string_view text) noexcept {
  return text.find_first_not_of(" \t\r\n\f\v") == std::string_view::npos;
}

bool LineInput::more() {
  if (ended_) return false;
  if (at_ > 0) {
    buffer_.erase(0, at_);
    at_ = 0;
  }
  ended_ = !text_.read(buffer_);
  return true;
}

std::string_view LineInput::peek(std::size_t size) {
  while (buffer_.size() - at_ < size && more()) {
  }
  return std::string_view(buffer_).substr(at_, size);
}

// One past the line end at or after `from`; npos if none is in the buffer yet.
std::size_t LineInput::find_end(std::size_t from) {
  const std::size_t end = std::string_view(buffer_).find_first_of("\r\n", from);
  if (end == std::string::npos || buffer_[end] == '\n')
    return end == std::string::npos ? end : end + 1;
  if (end + 1 < buffer_.size()) return end + (buffer_[end + 1] == '\n' ? 2 : 1);
  return ended_ ? end + 1 : std::string::npos;  // LF may follow in the next chunk
}

bool LineInput::next(Line& line) {
  std::size_t end = find_end(at_);
  while (end == std::string::npos && buffer_.size() - at_ <= row_limit) {
    // All but the last byte, which may be the CR of a CR LF, has been looked at.
    const std::size_t looked = buffer_.size() > at_ ? buffer_.size() - 1 - at_ : 0;
    if (!more()) break;
    end = find_end(at_ + looked);
  }
  line.too_long = end == std::string::npos && !ended_;
  if (end == std::string::npos) end = buffer_.size();
  if (end == at_) return false;
  line.text = std::string_view(buffer_).substr(at_, end - at_);
  line.number = ++number_;
  at_ = end;
  if (line.too_long) {
    skipped_ = std::string(line.text.substr(0, 200)) + "…";
    line.text = skipped_;
    skip_line();
  }
  return true;
}

void LineInput::skip_line() {
  for (;;) {
    const std::size_t end = find_end(at_);
    if (end != std::string::npos) {
      at_ = end;
      return;
    }
    at_ = buffer_.size() - (buffer_.ends_with('\r') ? 1 : 0);
    if (!more()) {
      at_ = buffer_.size();
      return;
    }
  }
}

}  // namespace note_cleanup
