// The command line.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include <racking/racking.hpp>

#include "row_source.hpp"

namespace note_cleanup {

enum class OutputFormat { jsonl, csv, tidy, html };

struct Options {
  std::vector<std::string> inputs;
  std::optional<InputFormat> from;
  std::string encoding;
  RowOptions rows;
  OutputFormat format = OutputFormat::jsonl;
  bool plain = false;
  bool explain = false;
  racking::Offsets offsets = racking::Offsets::codepoint;
  std::vector<std::string> lexicons;
  unsigned jobs = 1;
  std::string output;
  std::string unread;
  bool summary = false;
  unsigned suggest = 0;
  std::string suggestions;
  std::string check_lexicon;
};

// The parsed options; or the exit code of a call that is over (help, version, usage), its
// message already printed.
struct Parsed {
  Options options;
  std::optional<int> exit_code;
};
Parsed parse_options(int argument_count, char** arguments);

extern const char* const caution;

}  // namespace note_cleanup
