#include "render/json.hpp"

#include <array>
#include <charconv>
#include <cmath>
#include <cstring>

#include "text/utf8.hpp"

namespace racking::render {

namespace {

constexpr std::uint64_t ones = 0x0101010101010101U;
constexpr std::uint64_t high_bits = 0x8080808080808080U;

// A high bit for each byte that may be a quote, a backslash, a control character or
// no ASCII. A borrow can only add a byte that follows a true one, so zero is exact.
std::uint64_t special_bytes(std::uint64_t block) noexcept {
  const auto zeros = [](std::uint64_t b) { return (b - ones) & ~b & high_bits; };
  const std::uint64_t controls = (block - ones * 0x20U) & ~block & high_bits;
  return (block & high_bits) | controls | zeros(block ^ (ones * 0x22U)) |
         zeros(block ^ (ones * 0x5CU));
}

bool is_plain(unsigned char byte) noexcept {
  return byte >= 0x20 && byte < 0x80 && byte != '"' && byte != '\\';
}

// The first byte from `at` on that cannot stand in a JSON string as it is.
std::size_t end_of_plain(std::string_view text, std::size_t at) noexcept {
  for (; at + 8 <= text.size(); at += 8) {
    std::uint64_t block = 0;
    std::memcpy(&block, text.data() + at, 8);
    if (special_bytes(block) != 0) break;
  }
  while (at < text.size() && is_plain(static_cast<unsigned char>(text[at]))) ++at;
  return at;
}

void append_escaped(std::string& out, char character) {
  switch (character) {
    case '"': out += "\\\""; return;
    case '\\': out += "\\\\"; return;
    case '\n': out += "\\n"; return;
    case '\r': out += "\\r"; return;
    case '\t': out += "\\t"; return;
    case '\b': out += "\\b"; return;
    case '\f': out += "\\f"; return;
    default: break;
  }
  constexpr std::string_view digits = "0123456789abcdef";
  const auto byte = static_cast<unsigned char>(character);
  out += "\\u00";
  out += digits[byte >> 4];
  out += digits[byte & 15];
}

// What is plain, and every well-formed character, is copied in runs.
std::size_t end_of_copied(std::string_view text, std::size_t at) noexcept {
  for (;;) {
    at = end_of_plain(text, at);
    if (at >= text.size() || static_cast<unsigned char>(text[at]) < 0x80) return at;
    const text::Decoded decoded = text::decode(text, static_cast<std::uint32_t>(at));
    if (!decoded.well_formed) return at;
    at += decoded.length;
  }
}

}  // namespace

void append_string(std::string& out, std::string_view text) {
  constexpr std::string_view replacement = "\xEF\xBF\xBD";
  out += '"';
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = end_of_copied(text, at);
    out.append(text, at, end - at);
    if (end >= text.size()) break;
    if (static_cast<unsigned char>(text[end]) < 0x80) {
      append_escaped(out, text[end]);
      at = end + 1;
    } else {
      out += replacement;
      at = end + text::decode(text, static_cast<std::uint32_t>(end)).length;
    }
  }
  out += '"';
}

namespace {

template <class Number>
void append_shortest(std::string& out, Number value) {
  std::array<char, 32> digits;
  const auto written = std::to_chars(digits.data(), digits.data() + digits.size(), value);
  out.append(digits.data(), static_cast<std::size_t>(written.ptr - digits.data()));
}

}  // namespace

void append_number(std::string& out, double value) {
  if (!std::isfinite(value)) {
    out += "null";
    return;
  }
  append_shortest(out, value == 0.0 ? 0.0 : value);   // no "-0"
}

void append_number(std::string& out, std::uint32_t value) { append_shortest(out, value); }

void JsonWriter::next() {
  const char last = out_.empty() ? '{' : out_.back();
  if (last != '{' && last != '[') out_ += ',';
}

void JsonWriter::key(std::string_view name) {
  next();
  out_ += '"';
  out_ += name;
  out_ += "\":";
}

std::size_t JsonWriter::open(std::string_view name, char bracket) {
  const std::size_t began = out_.size();
  key(name);
  out_ += bracket;
  return began;
}

std::size_t JsonWriter::open_element(char bracket) {
  const std::size_t began = out_.size();
  next();
  out_ += bracket;
  return began;
}

void JsonWriter::close(std::size_t began, char bracket) {
  if (skips_empty_ && (out_.back() == '{' || out_.back() == '['))
    out_.resize(began);
  else
    out_ += bracket;
}

void JsonWriter::string(std::string_view name, std::string_view text) {
  key(name);
  append_string(out_, text);
}

void JsonWriter::id(std::string_view name, std::string_view id) {
  key(name);
  out_ += '"';
  out_ += id;
  out_ += '"';
}

void JsonWriter::number(std::string_view name, double value) {
  key(name);
  append_number(out_, value);
}

void JsonWriter::boolean(std::string_view name, bool value) {
  key(name);
  out_ += value ? "true" : "false";
}

void JsonWriter::null(std::string_view name) {
  if (skips_empty_) return;
  key(name);
  out_ += "null";
}

}  // namespace racking::render
