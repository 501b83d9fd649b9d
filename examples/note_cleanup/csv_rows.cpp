// Tables: comma, semicolon or tab, with quoted line breaks, with or without a heading.
#include <algorithm>
#include <deque>
#include <optional>

#include "columns.hpp"
#include "csv_parser.hpp"
#include "row_source.hpp"

namespace note_cleanup {
namespace {

constexpr std::size_t sample_size = std::size_t{64} << 10;

using Fields = std::vector<std::string>;

std::string list(const Fields& names) {
  std::string all;
  for (const auto& name : names) all += (all.empty() ? "“" : ", “") + name + "”";
  return all;
}

// The column with the longest texts, which is where notes are if no heading says so.
std::size_t longest_column(const std::vector<Fields>& rows, std::size_t from, std::size_t width) {
  std::vector<std::size_t> sizes(width);
  for (std::size_t at = from; at < rows.size(); ++at) {
    for (std::size_t column = 0; column < std::min(width, rows[at].size()); ++column) {
      sizes[column] += rows[at][column].size();
    }
  }
  return static_cast<std::size_t>(std::max_element(sizes.begin(), sizes.end()) - sizes.begin());
}

// Whether a first row that has no known word in it looks like headings all the same: short
// words, each once, none a number or a sentence, over longer text.
bool looks_like_headings(const std::vector<Fields>& rows) {
  const Fields& first = rows.front();
  if (first.size() < 2 || rows.size() < 2) return false;
  for (std::size_t at = 0; at < first.size(); ++at) {
    const std::string& name = first[at];
    if (name.empty() || name.size() > 40 ||
        name.find_first_of(".!?0123456789") != std::string::npos ||
        std::count(first.begin(), first.end(), name) > 1) {
      return false;
    }
  }
  const std::size_t longest = longest_column(rows, 1, first.size());
  return longest < rows[1].size() && rows[1][longest].size() > 2 * first[longest].size();
}

class CsvRows : public RowSource {
 public:
  CsvRows(LineInput& lines, const RowOptions& options, bool tabs)
      : lines_(lines), separator_(settle_separator(tabs)), parser_(separator_) {
    settle_columns(options);
  }

  bool next(Row& row) override {
    while (read(row)) {
      if (!heading_passed_ && row.unread.empty()) {
        heading_passed_ = true;
        row = Row();
        continue;
      }
      if (row.unread.empty()) take(row);
      return true;
    }
    return false;
  }

  std::string describe() const override {
    const auto name = [&](std::size_t column) {
      return column < headings_.size() ? "“" + headings_[column] + "”"
                                       : "column " + std::to_string(column + 1);
    };
    const char* separator = separator_ == '\t'  ? "tab"
                            : separator_ == ';' ? "semicolon"
                            : separator_ == ',' ? "comma"
                                                : "as the file says";
    return std::string("separator ") + separator + ", notes from " + name(note_) +
           (id_ ? ", ids from " + name(*id_) : ", no ids");
  }

 private:
  // "sep=;" in the first line, as spreadsheets write it, is an order and not a row.
  char settle_separator(bool tabs) {
    std::string_view sample = lines_.peek(sample_size);
    if (sample.starts_with("sep=") && sample.size() > 5 &&
        (sample[5] == '\r' || sample[5] == '\n')) {
      const char separator = sample[4];
      Line line;
      lines_.next(line);
      return separator;
    }
    std::size_t columns = 0;
    return tabs ? '\t' : guess_separator(sample, columns);
  }

  void settle_columns(const RowOptions& options) {
    const auto rows = parse_sample(lines_.peek(sample_size), separator_);
    if (rows.empty()) {
      if (!is_blank(lines_.peek(sample_size))) settle_unseen(options);
      return;
    }
    const Fields& first = rows.front();
    const auto named = [&](const std::string& name) {
      return name.empty() ? std::nullopt : find_named(first, name, false);
    };
    const bool heading =
        named(options.column) || named(options.id_column) || find_note_heading(first) ||
        std::any_of(
            first.begin(), first.end(),
            [](const auto& name) { return id_heading_rank(name) || is_common_heading(name); }) ||
        looks_like_headings(rows);
    if (heading) headings_ = first;
    heading_passed_ = !heading;
    width_ = first.size();
    const auto column = [&](const std::string& name, const char* option) {
      const auto at = find_named(first, name, true);
      if (!at || (!heading && name.find_first_not_of("0123456789") != std::string::npos)) {
        throw UsageError(std::string(option) + " " + name + ": no such column; the first row has " +
                         list(first));
      }
      return *at;
    };
    if (!options.column.empty())
      note_ = column(options.column, "--column");
    else
      note_ = (heading ? find_note_heading(first) : std::nullopt)
                  .value_or(longest_column(rows, heading ? 1 : 0, width_));
    if (!options.id_column.empty())
      id_ = column(options.id_column, "--id-column");
    else if (heading)
      id_ = find_id_heading(first);
    if (id_ == note_ && options.id_column.empty()) id_.reset();
  }

  // A first row longer than the sample: there is only what the user says.
  void settle_unseen(const RowOptions& options) {
    heading_passed_ = true;
    width_ = 0;
    if (!options.column.empty()) {
      throw UsageError("--column " + options.column +
                       ": the first row never ends, so no column has a name");
    }
  }

  // Lines go through here so that those after an unclosed quote can be read again.
  bool next_line(Line& line) {
    if (pending_.empty()) return lines_.next(line);
    held_ = std::move(pending_.front());
    pending_.pop_front();
    line = {held_.text, held_.number, false};
    return true;
  }

  // One row, as fields in the parser; or an unread row.
  bool read(Row& row) {
    begun_.clear();
    std::size_t size = 0;
    Line line;
    while (next_line(line)) {
      if (begun_.empty() && is_blank(line.content()) &&
          line.content().find(separator_) == std::string_view::npos) {
        continue;
      }
      if (begun_.empty()) row.line = line.number;
      if (line.too_long && begun_.empty()) {
        parser_.restart();
        row.raw = line.content();
        row.unread = "the row is longer than " + std::to_string(row_limit >> 20) + " MB";
        return true;
      }
      begun_.push_back({std::string(line.text), line.number});
      size += line.text.size();
      if (parser_.add(line.text)) return complete(row);
      const bool spent = reread_ > row_limit + passed_;
      if (line.too_long || size > row_limit || spent) return unclosed(row);
    }
    if (begun_.empty()) return false;
    bool open_quote = false;
    if (parser_.finish(open_quote)) return complete(row);
    return open_quote ? unclosed(row) : false;
  }

  bool complete(Row& row) {
    for (const auto& line : begun_) row.raw += line.text;
    if (begun_.size() > 1 && swallows_rows(row.raw, separator_)) return unclosed(row);
    while (row.raw.ends_with('\n') || row.raw.ends_with('\r')) row.raw.pop_back();
    passed_ += row.raw.size();
    return true;
  }

  // A quote that never closes costs its own line and no other: the rest is read again. What
  // that may cost is bounded; past the bound no quote reaches over a line end.
  bool unclosed(Row& row) {
    parser_.restart();
    row.raw = Line{begun_.front().text, 0, false}.content();
    row.unread = "a quote opens here and never closes";
    begun_.pop_front();
    for (const auto& line : begun_) reread_ += line.text.size();
    pending_.insert(pending_.begin(), std::make_move_iterator(begun_.begin()),
                    std::make_move_iterator(begun_.end()));
    begun_.clear();
    return true;
  }

  void take(Row& row) {
    const Fields& fields = parser_.fields();
    if (width_ == 0) {
      width_ = fields.size();
      note_ = longest_column({fields}, 0, width_);
    }
    if (id_ && *id_ < fields.size()) row.id = fields[*id_];
    if (note_ >= fields.size()) {
      row.unread = "the row has " + std::to_string(fields.size()) + " of " +
                   std::to_string(width_) + " fields, and the note is field " +
                   std::to_string(note_ + 1);
      return;
    }
    row.text = fields[note_];
    if (fields.size() <= width_) return;
    if (note_ + 1 < width_) {
      row.unread = "the row has " + std::to_string(fields.size()) + " fields instead of " +
                   std::to_string(width_) + ", so the note may be cut in two; put it in quotes";
      return;
    }
    // The note comes last: what follows it is its own, cut at its commas.
    for (std::size_t at = width_; at < fields.size(); ++at) {
      row.text += separator_;
      if (separator_ != '\t' && !fields[at].empty()) row.text += ' ';
      row.text += fields[at];
    }
    row.changes.push_back(
        {"fields-joined", "the note stood without quotes and was put together from " +
                              std::to_string(fields.size() - width_ + 1) + " fields"});
  }

  struct HeldLine {
    std::string text;
    std::size_t number = 0;
  };

  LineInput& lines_;
  char separator_;
  CsvParser parser_;
  Fields headings_;
  bool heading_passed_ = true;
  std::size_t width_ = 0;
  std::size_t note_ = 0;
  std::optional<std::size_t> id_;
  std::deque<HeldLine> begun_;    // the lines of the row that is being read
  std::deque<HeldLine> pending_;  // lines to read again
  HeldLine held_;
  std::size_t reread_ = 0;
  std::size_t passed_ = 0;
};

}  // namespace

std::unique_ptr<RowSource> open_csv(LineInput& lines, const RowOptions& options, bool tabs) {
  return std::make_unique<CsvRows>(lines, options, tabs);
}

}  // namespace note_cleanup
