#include "cleanup.hpp"

#include <algorithm>
#include <iostream>
#include <nlohmann/json.hpp>

#include "guess.hpp"
#include "markup.hpp"
#include "output.hpp"
#include "page.hpp"
#include "pipeline.hpp"
#include "progress.hpp"
#include "table.hpp"

namespace note_cleanup {
namespace {

bool is_ascii(std::string_view text) {
  return std::none_of(text.begin(), text.end(), [](char c) { return (c & 0x80) != 0; });
}

// Decoded and resolved text, with a change for each thing that was done.
void prepare(Row& row, const TextInput& input) {
  if (input.is_code_page() && !is_ascii(row.text)) {
    row.changes.push_back({"decoded", "converted from " + input.encoding() +
                                          (input.is_guessed() ? ", which was found out" : "")});
  }
}

void resolve(Row& row) {
  MarkupCount count;
  row.text = resolve_markup(std::move(row.text), count);
  if (!count.any()) return;
  row.changes.push_back({"markup", std::to_string(count.entities) + " HTML entities and " +
                                       std::to_string(count.tags) + " tags were resolved"});
}

std::vector<racking::TextProblem> problems_of(const Row& row) {
  std::vector<racking::TextProblem> problems;
  const racking::Span whole{0, static_cast<std::uint32_t>(row.text.size())};
  for (const auto& change : row.changes) problems.push_back({change.code, whole, change.message});
  return problems;
}

class CleanUp {
 public:
  CleanUp(const Options& options, const racking::Lexicon& lexicon)
      : options_(options),
        reader_(lexicon, racking::ReaderOptions{row_limit}),
        output_(options.output),
        progress_(output_.is_standard()) {
    if (!options.unread.empty()) unread_.emplace(options.unread);
    if (!options.suggestions.empty()) suggestions_file_.emplace(options.suggestions);
    for (const auto& path : options.inputs) inputs_.push_back(std::make_unique<ByteInput>(path));
  }

  int run() {
    if (options_.format == OutputFormat::csv) output_.write(table_heading());
    Pipeline pipeline(
        options_.jobs, [this](Work& work) { process(work); }, [this](Work& work) { finish(work); });
    for (const auto& input : inputs_) read(*input, pipeline);
    pipeline.drain();
    if (options_.format == OutputFormat::html) {
      write_page(output_, tally_, reader_.lexicon(), described_, entries_);
    }
    output_.commit();
    if (unread_) unread_->commit();
    if (suggestions_file_) {
      suggestions_file_->write(suggestions_.to_toml(options_.suggest));
      suggestions_file_->commit();
    }
    progress_.clear();
    if (options_.summary) std::cerr << summary_text(tally_, reader_.lexicon(), described_);
    if (options_.suggest > 0 && !suggestions_file_) std::cerr << suggestions_.to_toml(options_.suggest);
    return tally_.unread > 0 ? 1 : 0;
  }

 private:
  std::unique_ptr<RowSource> open(LineInput& lines, const std::string& name,
                                  InputFormat format) const {
    try {
      switch (format) {
        case InputFormat::csv:
          return open_csv(lines, options_.rows, false);
        case InputFormat::tsv:
          return open_csv(lines, options_.rows, true);
        case InputFormat::jsonl:
          return open_jsonl(lines, options_.rows);
        case InputFormat::lines:
          return open_lines(lines);
        default:
          return open_paragraphs(lines);
      }
    } catch (const UsageError& error) {
      throw UsageError(name + ": " + error.what());
    }
  }

  void read(ByteInput& bytes, Pipeline& pipeline) {
    TextInput text(bytes, options_.encoding);
    LineInput lines(text);
    const InputFormat format =
        options_.from ? *options_.from : guess_format(bytes.name(), lines.peek(sample_size), options_.rows);
    const auto rows = open(lines, bytes.name(), format);
    const std::string prefix = inputs_.size() > 1 ? short_name(bytes.name()) + " row " : "row ";
    std::size_t number = 0;
    for (Work work; rows->next(work.row); work = Work()) {
      Row& row = work.row;
      row.source = bytes.name();
      row.number = ++number;
      if (row.id.empty()) row.id = prefix + std::to_string(number);
      prepare(row, text);
      if (row.unread.empty()) {
        ++produced_;
        if (options_.format == OutputFormat::html && produced_ <= most_notes_shown)
          work.entry = produced_;
      }
      pipeline.add(std::move(work));
      progress_.show(consumed(), total(), tally_.notes);
    }
    described_.push_back(bytes.name() + ": " + std::string(name_of(format)) +
                         (options_.from ? "" : " (guessed)") + ", " + text.encoding() +
                         (text.is_guessed() ? "" : " (as asked)") + "; " + rows->describe());
  }

  // The file's name without its folder, unless another input has the same.
  std::string short_name(const std::string& path) const {
    const auto last = [](const std::string& name) { return name.substr(name.rfind('/') + 1); };
    const auto same = std::count_if(inputs_.begin(), inputs_.end(), [&](const auto& input) {
      return last(input->name()) == last(path);
    });
    return same > 1 ? path : last(path);
  }

  std::uint64_t consumed() const {
    std::uint64_t bytes = 0;
    for (const auto& input : inputs_) bytes += input->consumed();
    return bytes;
  }

  std::optional<std::uint64_t> total() const {
    std::uint64_t bytes = 0;
    for (const auto& input : inputs_) {
      if (!input->size()) return std::nullopt;
      bytes += *input->size();
    }
    return bytes;
  }

  // On any thread: touches only its work and what never changes.
  void process(Work& work) const {
    if (!work.row.unread.empty()) return;
    resolve(work.row);
    try {
      racking::Note note = reader_.read(work.row.text);
      write(work, note);
      work.facts = facts_of(note, work.row);
      if (options_.suggest > 0) work.note = std::move(note);
    } catch (const racking::Error& error) {
      work.row.unread = error.message();
    }
  }

  void write(Work& work, const racking::Note& note) const {
    switch (options_.format) {
      case OutputFormat::jsonl: {
        const auto problems = problems_of(work.row);
        racking::JsonOptions json;
        json.depth =
            options_.plain ? racking::JsonOptions::Depth::plain : racking::JsonOptions::Depth::full;
        json.offsets = options_.offsets;
        json.explain = options_.explain;
        json.id = work.row.id;
        json.more_problems = problems;
        note.append_json(work.output, json);
        work.output += '\n';
        return;
      }
      case OutputFormat::csv:
        append_table_row(work.output, note, work.row.id);
        return;
      case OutputFormat::tidy:
        work.output = note.tidy();
        for (char& c : work.output) c = c == '\n' || c == '\r' ? ' ' : c;
        work.output += '\n';
        return;
      case OutputFormat::html:
        if (work.entry > 0) work.output = page_entry(note, work.row.id, work.entry);
    }
  }

  // On the caller's thread, in the order of the rows.
  void finish(Work& work) {
    if (!work.row.unread.empty()) {
      report(work.row);
      return;
    }
    if (work.note) suggestions_.add(*work.note, work.row.id);
    std::size_t shown = 0;
    if (options_.format != OutputFormat::html) {
      output_.write(work.output);
    } else if (work.entry > 0 && page_size_ + work.output.size() <= largest_page) {
      page_size_ += work.output.size();
      entries_.push_back(std::move(work.output));
      shown = work.entry;
    } else {
      page_size_ = largest_page;  // a page without gaps
    }
    tally_.add(work.facts, work.row.id, shown);
  }

  void report(const Row& row) {
    ++tally_.unread;
    progress_.clear();
    std::cerr << row.source << ':' << row.line << ": " << row.unread << '\n';
    if (!unread_) return;
    const nlohmann::ordered_json record{{"file", std::string(row.source)},
                                        {"line", row.line},
                                        {"reason", row.unread},
                                        {"row", row.raw}};
    unread_->write(record.dump(-1, ' ', false, nlohmann::ordered_json::error_handler_t::replace) +
                   "\n");
  }

  const Options& options_;
  racking::Reader reader_;
  Output output_;
  std::optional<Output> unread_;
  Progress progress_;
  std::vector<std::unique_ptr<ByteInput>> inputs_;
  std::vector<std::string> described_;
  std::size_t produced_ = 0;
  Tally tally_;
  racking::Suggestions suggestions_;
  std::optional<Output> suggestions_file_;
  std::vector<std::string> entries_;
  std::size_t page_size_ = 0;
};

}  // namespace

int clean_up(const Options& options, const racking::Lexicon& lexicon) {
  return CleanUp(options, lexicon).run();
}

}  // namespace note_cleanup
