// The run itself: rows from every input through the reader to the output.
#pragma once

#include "options.hpp"

namespace note_cleanup {

// The exit code, 0 or 1. Throws UsageError, InputError, OutputError, racking::Error, ReaderLeft.
int clean_up(const Options& options, const racking::Lexicon& lexicon);

}  // namespace note_cleanup
