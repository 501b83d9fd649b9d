#include "cleanup.hpp"

#include <unicode/unistr.h>

#include <algorithm>
#include <iostream>
#include <nlohmann/json.hpp>

#include "guess.hpp"
#include "markup.hpp"
#include "output.hpp"
#include "page.hpp"
#include "pipeline.hpp"
#include "progress.hpp"
#include "sketch.hpp"
#include "table.hpp"

namespace note_cleanup {
namespace {

constexpr std::size_t sketch_size = 20000;
constexpr std::size_t longest_phrase = 200;  // bytes; longer ones are prose, not words to add

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

std::string folded(std::string_view phrase) {
  icu::UnicodeString text = icu::UnicodeString::fromUTF8(
      icu::StringPiece(phrase.data(), static_cast<std::int32_t>(phrase.size())));
  text.foldCase();
  std::string utf8;
  text.toUTF8String(utf8);
  std::string single;  // one space where there were many
  for (const char c : utf8) {
    const bool space = c == ' ' || c == '\t' || c == '\n' || c == '\r';
    if (!space)
      single += c;
    else if (!single.empty() && single.back() != ' ')
      single += ' ';
  }
  return single;
}

// The words round a span, whole characters, on one line.
std::string excerpt(const racking::Note& note, racking::Span span) {
  const std::string& text = note.text();
  const auto inside = [&](std::size_t at) { return at < text.size() && (text[at] & 0xC0) == 0x80; };
  std::size_t from = span.begin < 40 ? 0 : span.begin - 40;
  std::size_t to = std::min<std::size_t>(text.size(), span.end + 40);
  while (from > 0 && inside(from)) --from;
  while (inside(to)) ++to;
  std::string words =
      (from > 0 ? "…" : "") + text.substr(from, to - from) + (to < text.size() ? "…" : "");
  for (char& c : words) c = c == '\n' || c == '\r' || c == '\t' ? ' ' : c;
  return words;
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
        progress_(output_.is_standard()),
        sketch_(sketch_size) {
    if (!options.unread.empty()) unread_.emplace(options.unread);
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
    progress_.clear();
    if (options_.summary) std::cerr << summary_text(tally_, reader_.lexicon(), described_);
    if (options_.suggest > 0) suggest();
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
        options_.from ? *options_.from : guess_format(bytes.name(), lines.peek(sample_size));
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
      const racking::Note note = reader_.read(work.row.text);
      write(work, note);
      work.facts = facts_of(note, work.row);
      if (options_.suggest > 0) collect_unmapped(work, note);
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

  static void collect_unmapped(Work& work, const racking::Note& note) {
    for (const racking::Span span : note.unmapped()) {
      if (span.empty() || span.size() > longest_phrase) continue;
      work.unmapped.emplace_back(folded(note.text(span)), work.row.id + ": " + excerpt(note, span));
    }
  }

  // On the caller's thread, in the order of the rows.
  void finish(Work& work) {
    if (!work.row.unread.empty()) {
      report(work.row);
      return;
    }
    for (const auto& [phrase, example] : work.unmapped) sketch_.add(phrase, example);
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

  void suggest() const {
    const auto phrases = sketch_.top(options_.suggest);
    if (phrases.empty()) {
      std::cerr << "Every phrase is in the lexicon.\n";
      return;
    }
    std::cerr << "Frequent phrases that are not in the lexicon, counted in a sketch of "
              << sketch_.capacity() << " phrases ("
              << (sketch_.is_exact()
                      ? "it held them all, so counts are exact"
                      : "it was full, so counts are bounds and rare phrases may be missing")
              << "):\n";
    for (const auto& phrase : phrases) {
      std::cerr << "  ";
      if (phrase.excess > 0) std::cerr << phrase.count - phrase.excess << "–";
      std::cerr << phrase.count << "  " << phrase.phrase << "  (" << phrase.example << ")\n";
    }
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
  PhraseSketch sketch_;
  std::vector<std::string> entries_;
  std::size_t page_size_ = 0;
};

}  // namespace

int clean_up(const Options& options, const racking::Lexicon& lexicon) {
  return CleanUp(options, lexicon).run();
}

}  // namespace note_cleanup
