// Plain text: a note a line, or a note a paragraph.
#include "row_source.hpp"

namespace note_cleanup {
namespace {

void say_too_long(Row& row) {
  row.unread = "the row is longer than " + std::to_string(row_limit >> 20) + " MB";
}

class LineRows : public RowSource {
 public:
  explicit LineRows(LineInput& lines) : lines_(lines) {}

  bool next(Row& row) override {
    Line line;
    while (lines_.next(line)) {
      if (is_blank(line.content())) continue;
      row.line = line.number;
      row.raw = line.content();
      if (line.too_long)
        say_too_long(row);
      else
        row.text = row.raw;
      return true;
    }
    return false;
  }

  std::string describe() const override { return "a note a line"; }

 private:
  LineInput& lines_;
};

class ParagraphRows : public RowSource {
 public:
  explicit ParagraphRows(LineInput& lines) : lines_(lines) {}

  bool next(Row& row) override {
    Line line;
    bool started = false;
    bool too_long = false;
    while (lines_.next(line)) {
      if (is_blank(line.content())) {
        if (started) break;
        continue;
      }
      if (!started)
        row.line = line.number;
      else if (!too_long)
        row.raw += '\n';
      started = true;
      if (!too_long) row.raw += line.content();
      too_long = too_long || line.too_long || row.raw.size() > row_limit;
    }
    if (too_long) {
      row.raw.resize(200);
      say_too_long(row);
    } else {
      row.text = row.raw;
    }
    return started;
  }

  std::string describe() const override { return "a note a paragraph"; }

 private:
  LineInput& lines_;
};

}  // namespace

std::string_view name_of(InputFormat format) noexcept {
  switch (format) {
    case InputFormat::csv:
      return "csv";
    case InputFormat::tsv:
      return "tsv";
    case InputFormat::jsonl:
      return "jsonl";
    case InputFormat::lines:
      return "lines";
    default:
      return "paragraphs";
  }
}

std::unique_ptr<RowSource> open_lines(LineInput& lines) {
  return std::make_unique<LineRows>(lines);
}

std::unique_ptr<RowSource> open_paragraphs(LineInput& lines) {
  return std::make_unique<ParagraphRows>(lines);
}

}  // namespace note_cleanup
