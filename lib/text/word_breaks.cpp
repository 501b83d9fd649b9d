#include "text/word_breaks.hpp"

#include "text/word_segments.hpp"

namespace racking::text {
namespace {

std::uint32_t next_boundary(std::string_view text, std::uint32_t at) noexcept {
  std::uint32_t end = at;
  switch (scan_class(text[at])) {
    case ScanClass::letter: end = ascii_word_end(text, at); break;
    case ScanClass::digit: end = ascii_number_end(text, at); break;
    case ScanClass::mark: end = at + 1; break;
    case ScanClass::blank: end = ascii_blank_end(text, at); break;
    case ScanClass::line_break:
    case ScanClass::beyond: return segment_end(text, at);
  }
  return stays_ascii(text, end) ? end : segment_end(text, at);
}

}  // namespace

void word_breaks(std::string_view text, std::vector<std::uint32_t>& out) {
  out.clear();
  if (text.empty()) return;
  const auto size = static_cast<std::uint32_t>(text.size());
  out.push_back(0);
  for (std::uint32_t at = 0; at < size;) {
    at = next_boundary(text, at);
    out.push_back(at);
  }
}

}  // namespace racking::text
