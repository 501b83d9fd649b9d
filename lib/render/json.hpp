// JSON written straight into a string, with no document tree.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

namespace racking::render {

// Appends `text` as a JSON string, quotes included. Each maximal ill-formed part
// becomes one U+FFFD.
void append_string(std::string& out, std::string_view text);

// Appends the shortest decimal that reads back as `value`; null for what is no number.
void append_number(std::string& out, double value);
void append_number(std::string& out, std::uint32_t value);

// Opens and closes objects and arrays, and puts the commas. Keys are our own and
// need no escaping. With `skips_empty`, a member whose container stayed empty is
// taken back.
class JsonWriter {
 public:
  JsonWriter(std::string& out, bool skips_empty) : out_(out), skips_empty_(skips_empty) {}

  bool skips_empty() const noexcept { return skips_empty_; }

  void key(std::string_view name);
  // The comma before an element of an array, if one is due.
  void next();

  // Returns where the member began, for `close`.
  std::size_t open(std::string_view name, char bracket);
  std::size_t open_element(char bracket);
  void close(std::size_t began, char bracket);

  void string(std::string_view name, std::string_view text);
  // An id of ours: no character of it needs escaping.
  void id(std::string_view name, std::string_view id);
  void number(std::string_view name, double value);
  void boolean(std::string_view name, bool value);
  void null(std::string_view name);   // nothing where empty members are skipped

  std::string& out() noexcept { return out_; }

 private:
  std::string& out_;
  bool skips_empty_;
};

}  // namespace racking::render
