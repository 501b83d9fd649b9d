// JSON Lines: an object a line with a text and perhaps an id; or a string a line.
#include <simdjson.h>

#include <vector>

#include "columns.hpp"
#include "ill_formed.hpp"
#include "row_source.hpp"

namespace note_cleanup {
namespace {

using simdjson::dom::element;
using simdjson::dom::element_type;
using simdjson::dom::object;

class JsonlRows : public RowSource {
 public:
  JsonlRows(LineInput& lines, const RowOptions& options) : lines_(lines), options_(options) {}

  bool next(Row& row) override {
    Line line;
    while (lines_.next(line)) {
      if (is_blank(line.content())) continue;
      row.line = line.number;
      row.raw = line.content();
      if (line.too_long)
        row.unread = "the line is longer than " + std::to_string(row_limit >> 20) + " MB";
      else
        read(row);
      return true;
    }
    return false;
  }

  std::string describe() const override {
    return (text_key_.empty() ? std::string("no text seen") : "notes from “" + text_key_ + "”") +
           (id_key_.empty() ? ", no ids" : ", ids from “" + id_key_ + "”");
  }

 private:
  // A parser that refuses ill-formed UTF-8 sees stand-ins instead.
  void read(Row& row) {
    const bool well_formed = is_well_formed(row.raw);
    const std::string line = well_formed ? row.raw : protect_ill_formed(row.raw);
    element value;
    if (const auto error = parser_.parse(line).get(value)) {
      row.unread = std::string("not JSON: ") + simdjson::error_message(error);
      return;
    }
    take(value, row);
    if (!well_formed) {
      row.text = restore_ill_formed(row.text);
      row.id = restore_ill_formed(row.id);
    }
  }

  void take(element value, Row& row) {
    switch (value.type()) {
      case element_type::STRING:
        row.text = std::string_view(value);
        return;
      case element_type::OBJECT:
        take(object(value), row);
        return;
      case element_type::ARRAY:
        row.unread = "a JSON array; give one object a line";
        return;
      default:
        row.unread = "neither an object nor a string";
    }
  }

  void take(object note, Row& row) {
    element text;
    const std::string key = text_key(note);
    if (key.empty()) {
      row.unread = "no text: no key such as note, text or description";
    } else if (find(note, key, text)) {
      row.unread = "no text: no key “" + key + "”";
    } else if (!text.is_string()) {
      row.unread = "the text under “" + key + "” is not a string";
    } else {
      row.text = std::string_view(text);
      text_key_ = key;
    }
    take_id(note, row);
  }

  void take_id(object note, Row& row) {
    const std::string key = !options_.id_column.empty() ? options_.id_column : id_key(note);
    element id;
    if (key.empty() || find(note, key, id)) return;
    if (id.is_string())
      row.id = std::string_view(id);
    else if (!id.is_null() && !id.is_object() && !id.is_array())
      row.id = simdjson::minify(id);
    if (!row.id.empty()) id_key_ = key;
  }

  // A key, or a JSON pointer (RFC 6901) such as /wine/note. True if it is not there.
  static bool find(object note, const std::string& key, element& value) {
    if (!note.at_key(key).get(value)) return false;
    return !key.starts_with('/') || note.at_pointer(key).get(value) != simdjson::SUCCESS;
  }

  static std::vector<std::string> keys(object note) {
    std::vector<std::string> names;
    for (const auto field : note) names.emplace_back(field.key);
    return names;
  }

  std::string text_key(object note) const {
    if (!options_.column.empty()) return options_.column;
    element known;
    if (!text_key_.empty() && !find(note, text_key_, known)) return text_key_;
    std::vector<std::string> names;  // a "note": 7 is no note
    std::string only;
    std::size_t strings = 0;
    for (const auto field : note) {
      if (!field.value.is_string()) continue;
      names.emplace_back(field.key);
      if (id_heading_rank(field.key) != 0) continue;
      only = std::string(field.key);
      ++strings;
    }
    if (const auto at = find_note_heading(names)) return names[*at];
    return strings == 1 ? only : std::string();
  }

  std::string id_key(object note) const {
    element known;
    if (!id_key_.empty() && !find(note, id_key_, known)) return id_key_;
    const std::vector<std::string> names = keys(note);
    const auto at = find_id_heading(names);
    return at ? names[*at] : std::string();
  }

  LineInput& lines_;
  RowOptions options_;
  simdjson::dom::parser parser_;
  std::string text_key_;
  std::string id_key_;
};

}  // namespace

std::unique_ptr<RowSource> open_jsonl(LineInput& lines, const RowOptions& options) {
  return std::make_unique<JsonlRows>(lines, options);
}

}  // namespace note_cleanup
