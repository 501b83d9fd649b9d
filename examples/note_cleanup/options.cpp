#include "options.hpp"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <iostream>
#include <map>
#include <thread>

#include "encoding.hpp"

namespace note_cleanup {

const char* const caution =
    "Tasting involves alcohol: spit, rest, and never taste and drive. A note is no laboratory "
    "result;\nan off bottle can be unpleasant, so ask for another. Local rules and licensed "
    "practice come first.";

namespace {

const char* const formats_help =
    "Exit codes: 0 done; 1 some rows could not be read, each is listed, the rest are done;\n"
    "2 wrong usage; 3 an input or lexicon could not be read, or the output not written.\n\n";

void add_input(CLI::App& app, Options& options) {
  const std::map<std::string, InputFormat> formats{{"csv", InputFormat::csv},
                                                   {"tsv", InputFormat::tsv},
                                                   {"jsonl", InputFormat::jsonl},
                                                   {"lines", InputFormat::lines},
                                                   {"paragraphs", InputFormat::paragraphs}};
  app.add_option("FILE", options.inputs, "Files of notes; none, or -: standard input");
  app.add_option("--from", options.from,
                 "csv, tsv, jsonl, lines or paragraphs (guessed from name and content)")
      ->transform(CLI::CheckedTransformer(formats).description(""))
      ->type_name("FORMAT");
  app.add_option("--encoding", options.encoding,
                 "Of the input: UTF-8, UTF-16, Windows-1252, … (found out)")
      ->type_name("NAME");
  app.add_option("--column", options.rows.column,
                 "Column or key of the notes, or the column's number (found by its name)")
      ->type_name("NAME");
  app.add_option("--id-column", options.rows.id_column, "Column or key of their ids, likewise")
      ->type_name("NAME");
}

void add_output(CLI::App& app, Options& options) {
  const std::map<std::string, OutputFormat> formats{{"jsonl", OutputFormat::jsonl},
                                                    {"csv", OutputFormat::csv},
                                                    {"tidy", OutputFormat::tidy},
                                                    {"html", OutputFormat::html}};
  const std::map<std::string, racking::Offsets> units{{"byte", racking::Offsets::byte},
                                                      {"codepoint", racking::Offsets::codepoint},
                                                      {"utf16", racking::Offsets::utf16}};
  app.add_option("--format", options.format,
                 "jsonl: a record a line; csv: a row a note; tidy: a cleaned note a line;\n"
                 "html: a page of the first 2,000 notes (jsonl)")
      ->transform(CLI::CheckedTransformer(formats).description(""))
      ->type_name("FORMAT");
  app.add_flag("--plain", options.plain, "Shorter records, for jsonl");
  app.add_flag("--explain", options.explain, "Say of each reading why it was read so, for jsonl");
  app.add_option("--offsets", options.offsets,
                 "Unit of spans, for jsonl: byte, codepoint or utf16 (codepoint)")
      ->transform(CLI::CheckedTransformer(units).description(""))
      ->type_name("UNIT");
  app.add_option("--output", options.output, "File for the result, written whole or not at all")
      ->type_name("FILE");
  app.add_option("--unread", options.unread,
                 "File for the rows that could not be read: JSON Lines of file, line, reason\n"
                 "and the row as it stood")
      ->type_name("FILE");
  app.add_flag("--summary", options.summary, "Say on standard error what was read and found");
  app.add_option("--suggest", options.suggest,
                 "Propose the N most frequent phrases that are not in the lexicon as entries\n"
                 "to add, on standard error: TOML, each with its likely family and contexts;\n"
                 "counted in bounded memory, so rare ones may be missed")
      ->type_name("N")
      ->check(CLI::Range(1U, 10000U).description(""));
  app.add_option("--suggestions", options.suggestions, "File for what --suggest proposes")
      ->type_name("FILE");
}

void add_rest(CLI::App& app, Options& options) {
  app.add_option("--lexicon", options.lexicons,
                 "Folder of your own words, laid on the house lexicon; may be repeated.\n"
                 "A folder with a lexicon.toml is a whole lexicon and replaces the house's")
      ->type_name("DIR")
      ->expected(1)
      ->take_all();
  app.add_option("--check-lexicon", options.check_lexicon,
                 "Check a folder of words and its examples, and read nothing")
      ->type_name("DIR");
  app.add_option("--jobs", options.jobs, "Threads that read notes (one a processor)")
      ->type_name("N")
      ->check(CLI::Range(1U, 256U).description(""));
}

// What is wrong with options that are each right; empty if nothing is.
std::string contradiction(const CLI::App& app, const Options& options) {
  const bool records = options.format == OutputFormat::jsonl;
  if (options.plain && !records) return "--plain is for --format jsonl only";
  if (options.explain && !records) return "--explain is for --format jsonl only";
  if (app.count("--offsets") > 0 && !records) return "--offsets is for --format jsonl only";
  if (!options.encoding.empty() && !is_known_encoding(options.encoding)) {
    return "--encoding " + options.encoding + ": not an encoding that is known here";
  }
  if (!options.check_lexicon.empty() && !options.inputs.empty()) {
    return "--check-lexicon reads no notes; leave out " + options.inputs.front();
  }
  const bool text = options.from == InputFormat::lines || options.from == InputFormat::paragraphs;
  if (text && !(options.rows.column.empty() && options.rows.id_column.empty())) {
    return "--column and --id-column are for tables and JSON Lines, not plain text";
  }
  if (std::count(options.inputs.begin(), options.inputs.end(), "-") > 1) {
    return "standard input can be read once only";
  }
  if (!options.suggestions.empty() && options.suggest == 0) {
    return "--suggestions needs --suggest N";
  }
  const std::vector<std::string> files{options.output, options.unread, options.suggestions};
  for (std::size_t a = 0; a < files.size(); ++a)
    for (std::size_t b = a + 1; b < files.size(); ++b)
      if (!files[a].empty() && files[a] == files[b])
        return files[a] + " is named for two outputs";
  return {};
}

}  // namespace

Parsed parse_options(int argument_count, char** arguments) {
  Parsed parsed;
  parsed.options.jobs = std::max(1U, std::thread::hardware_concurrency());
  CLI::App app{"Reads wine tasting notes and writes down what they say.", "note_cleanup"};
  app.set_version_flag("--version", "note_cleanup " + std::string(racking::version()));
  app.get_formatter()->column_width(26);
  add_input(app, parsed.options);
  add_output(app, parsed.options);
  add_rest(app, parsed.options);
  app.footer(std::string(formats_help) + caution);
  try {
    app.parse(argument_count, arguments);
  } catch (const CLI::ParseError& error) {
    parsed.exit_code = app.exit(error, std::cout, std::cerr) == 0 ? 0 : 2;
    return parsed;
  }
  const std::string wrong = contradiction(app, parsed.options);
  if (!wrong.empty()) {
    std::cerr << "note_cleanup: " << wrong << '\n';
    parsed.exit_code = 2;
  }
  if (parsed.options.inputs.empty()) parsed.options.inputs.emplace_back("-");
  return parsed;
}

}  // namespace note_cleanup
