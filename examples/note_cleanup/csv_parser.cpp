#include "csv_parser.hpp"

#include <algorithm>
#include <array>
#include <new>

namespace note_cleanup {

CsvParser::CsvParser(char separator) : separator_(separator) {
  if (csv_init(&parser_, 0) != 0) throw std::bad_alloc();
  csv_set_delim(&parser_, static_cast<unsigned char>(separator));
}

CsvParser::~CsvParser() { csv_free(&parser_); }

void CsvParser::restart() {
  csv_free(&parser_);
  coming_.clear();
  complete_ = false;
  if (csv_init(&parser_, 0) != 0) throw std::bad_alloc();
  csv_set_delim(&parser_, static_cast<unsigned char>(separator_));
}

namespace {

struct Sink {
  std::vector<std::string>& fields;
  bool& complete;
};

extern "C" void take_field(void* field, std::size_t size, void* data) {
  static_cast<Sink*>(data)->fields.emplace_back(static_cast<const char*>(field), size);
}

extern "C" void take_row(int, void* data) { static_cast<Sink*>(data)->complete = true; }

}  // namespace

bool CsvParser::take() {
  if (!complete_) return false;
  complete_ = false;
  fields_.swap(coming_);
  coming_.clear();
  return true;
}

bool CsvParser::add(std::string_view line) {
  Sink sink{coming_, complete_};
  if (csv_parse(&parser_, line.data(), line.size(), take_field, take_row, &sink) != line.size()) {
    throw std::bad_alloc();  // the only way it stops short outside strict mode
  }
  return take();
}

bool CsvParser::finish(bool& open_quote) {
  Sink sink{coming_, complete_};
  parser_.options |= CSV_STRICT | CSV_STRICT_FINI;  // only now: stray quotes inside are taken
  open_quote = csv_fini(&parser_, take_field, take_row, &sink) != 0;
  if (open_quote) return false;
  return take();
}

bool swallows_rows(std::string_view row, char separator) {
  csv_parser parser{};
  if (csv_init(&parser, CSV_STRICT) != 0) throw std::bad_alloc();
  csv_set_delim(&parser, static_cast<unsigned char>(separator));
  const std::size_t taken = csv_parse(&parser, row.data(), row.size(), nullptr, nullptr, nullptr);
  csv_free(&parser);
  if (taken == row.size()) return false;
  const std::string opening{separator, '"'};
  for (std::size_t at = row.find('\n'); at != std::string_view::npos; ++at) {
    at = row.find(opening, at);
    if (at == std::string_view::npos) return false;
    if (at + 2 < row.size() && row[at + 2] != '"') return true;
  }
  return false;
}

std::vector<std::vector<std::string>> parse_sample(std::string_view sample, char separator) {
  CsvParser parser(separator);
  std::vector<std::vector<std::string>> rows;
  while (!sample.empty()) {
    std::size_t end = sample.find_first_of("\r\n");
    if (end == std::string_view::npos)
      end = sample.size();
    else
      end += sample.substr(end, 2) == "\r\n" ? 2 : 1;
    if (parser.add(sample.substr(0, end))) rows.push_back(parser.fields());
    sample.remove_prefix(end);
  }
  bool open_quote = false;
  if (rows.empty() && parser.finish(open_quote)) rows.push_back(parser.fields());
  return rows;
}

char guess_separator(std::string_view sample, std::size_t& columns) {
  char best = ',';
  double best_share = 0;
  columns = 1;
  for (const char separator : {',', ';', '\t'}) {
    const auto rows = parse_sample(sample, separator);
    if (rows.empty() || rows.front().size() < 2) continue;
    const std::size_t width = rows.front().size();
    const auto even = std::count_if(rows.begin(), rows.end(),
                                    [&](const auto& row) { return row.size() == width; });
    const double share = static_cast<double>(even) / static_cast<double>(rows.size());
    if (share > best_share + 0.1 || (share > best_share - 0.1 && width > columns)) {
      best = separator;
      best_share = share;
      columns = width;
    }
  }
  return best;
}

void append_csv(std::string& out, std::string_view field) {
  if (field.find_first_of(",;\t\"\r\n") == std::string_view::npos && !field.starts_with(' ') &&
      !field.ends_with(' ')) {
    out += field;
    return;
  }
  const std::size_t had = out.size();
  out.resize(had + 2 * field.size() + 2);
  out.resize(had + csv_write(out.data() + had, out.size() - had, field.data(), field.size()));
}

}  // namespace note_cleanup
