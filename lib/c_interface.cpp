// The C interface: every exception ends here as a status.
#include "racking/racking.h"

#include <cstdlib>
#include <cstring>
#include <exception>
#include <memory>
#include <new>
#include <string>
#include <utility>
#include <vector>

#include "racking/error.hpp"
#include "racking/lexicon.hpp"
#include "racking/note.hpp"
#include "racking/reader.hpp"
#include "racking/version.hpp"

struct racking_reader {
  explicit racking_reader(racking::Reader its)
      : reader(std::move(its)), name(reader.lexicon().name()),
        version(reader.lexicon().version()), digest(reader.lexicon().digest()) {}

  racking::Reader reader;
  std::string name, version, digest;   // with the NUL that C wants
};

struct racking_error {
  racking_status status = RACKING_INTERNAL;
  std::string message, source;
  unsigned line = 0, column = 0;
  std::vector<std::string> problems;
};

namespace {

racking_status status_of(racking::ErrorCode code) noexcept {
  switch (code) {
    case racking::ErrorCode::lexicon_invalid: return RACKING_LEXICON_INVALID;
    case racking::ErrorCode::lexicon_unreadable: return RACKING_LEXICON_UNREADABLE;
    case racking::ErrorCode::lexicon_corrupt: return RACKING_LEXICON_CORRUPT;
    case racking::ErrorCode::text_too_large: return RACKING_TEXT_TOO_LARGE;
    case racking::ErrorCode::bad_argument: return RACKING_BAD_ARGUMENT;
  }
  return RACKING_INTERNAL;
}

// The error of a call that could not even allocate its error; never freed.
racking_error* out_of_memory() noexcept {
  static racking_error error{RACKING_OUT_OF_MEMORY, "out of memory", "", 0, 0, {}};
  return &error;
}

template <class Fill>
racking_status fail(racking_status status, racking_error** error, Fill&& fill) noexcept {
  if (error == nullptr) return status;
  try {
    auto made = std::make_unique<racking_error>();
    made->status = status;
    fill(*made);
    *error = made.release();
    return status;
  } catch (...) {
    *error = out_of_memory();
    return RACKING_OUT_OF_MEMORY;
  }
}

void describe(racking_error& made, const racking::Error& thrown) {
  made.message = thrown.message();
  made.source = thrown.source();
  made.line = thrown.line();
  made.column = thrown.column();
  for (const racking::Problem& problem : thrown.problems())
    made.problems.push_back(problem.to_string());
}

// Runs `body`, which returns nothing, and turns what it throws into a status.
template <class Body>
racking_status guarded(racking_error** error, Body&& body) noexcept {
  if (error != nullptr) *error = nullptr;
  try {
    body();
    return RACKING_OK;
  } catch (const racking::Error& thrown) {
    return fail(status_of(thrown.code()), error,
                [&](racking_error& made) { describe(made, thrown); });
  } catch (const std::bad_alloc&) {
    return fail(RACKING_OUT_OF_MEMORY, error,
                [](racking_error& made) { made.message = "out of memory"; });
  } catch (const std::exception& thrown) {
    return fail(RACKING_INTERNAL, error,
                [&](racking_error& made) { made.message = thrown.what(); });
  } catch (...) {
    return fail(RACKING_INTERNAL, error,
                [](racking_error& made) { made.message = "unknown failure"; });
  }
}

void require(bool holds, const char* message) {
  if (!holds) throw racking::Error(racking::ErrorCode::bad_argument, message);
}

racking::JsonOptions to_json_options(const racking_read_options* given) {
  racking::JsonOptions options;
  if (given == nullptr) return options;
  require(given->struct_size >= sizeof(racking_read_options),
          "options.struct_size is not set: start from racking_read_options_default()");
  switch (static_cast<int>(given->depth)) {
    case RACKING_FULL: options.depth = racking::JsonOptions::Depth::full; break;
    case RACKING_PLAIN: options.depth = racking::JsonOptions::Depth::plain; break;
    default: require(false, "options.depth is not a racking_depth");
  }
  switch (static_cast<int>(given->offsets)) {
    case RACKING_BYTES: options.offsets = racking::Offsets::byte; break;
    case RACKING_CODEPOINTS: options.offsets = racking::Offsets::codepoint; break;
    case RACKING_UTF16: options.offsets = racking::Offsets::utf16; break;
    default: require(false, "options.offsets is not a racking_offsets");
  }
  if (given->id != nullptr) options.id = given->id;
  options.tidy = given->tidy != 0;
  options.explain = given->explain != 0;
  return options;
}

racking::Lexicon open_lexicon(const char* folder, const char* const* overlays,
                              std::size_t overlay_count) {
  racking::Lexicon lexicon =
      folder == nullptr ? racking::Lexicon::house() : racking::Lexicon::load(folder);
  for (std::size_t i = 0; i < overlay_count; ++i) {
    require(overlays[i] != nullptr, "an overlay's folder is NULL");
    lexicon = lexicon.overlaid(racking::Overlay::load(overlays[i]));
  }
  return lexicon;
}

// malloc, so that the caller's side needs nothing of C++.
char* copy_out(const std::string& string) {
  auto* copy = static_cast<char*>(std::malloc(string.size() + 1));
  if (copy == nullptr) throw std::bad_alloc();
  std::memcpy(copy, string.c_str(), string.size() + 1);
  return copy;
}

}  // namespace

extern "C" {

racking_read_options racking_read_options_default(void) {
  return {sizeof(racking_read_options), RACKING_FULL, RACKING_CODEPOINTS, nullptr, 1, 0};
}

const char* racking_version(void) { return racking::version().data(); }

racking_status racking_reader_open(const char* lexicon_folder, const char* const* overlays,
                                   size_t overlay_count, size_t size_limit,
                                   racking_reader** reader, racking_error** error) {
  if (reader != nullptr) *reader = nullptr;
  return guarded(error, [&] {
    require(reader != nullptr, "reader is NULL");
    require(overlays != nullptr || overlay_count == 0, "overlays is NULL");
    racking::ReaderOptions options;
    if (size_limit != 0) options.size_limit = size_limit;
    *reader = new racking_reader(
        racking::Reader(open_lexicon(lexicon_folder, overlays, overlay_count), options));
  });
}

void racking_reader_close(racking_reader* reader) { delete reader; }

const char* racking_lexicon_name(const racking_reader* reader) {
  return reader == nullptr ? nullptr : reader->name.c_str();
}
const char* racking_lexicon_version(const racking_reader* reader) {
  return reader == nullptr ? nullptr : reader->version.c_str();
}
const char* racking_lexicon_digest(const racking_reader* reader) {
  return reader == nullptr ? nullptr : reader->digest.c_str();
}

racking_status racking_read_json(const racking_reader* reader, const char* text, size_t length,
                                 const racking_read_options* options, char** json,
                                 size_t* json_length, racking_error** error) {
  if (json != nullptr) *json = nullptr;
  if (json_length != nullptr) *json_length = 0;
  return guarded(error, [&] {
    require(reader != nullptr, "reader is NULL");
    require(json != nullptr, "json is NULL");
    require(text != nullptr || length == 0, "text is NULL");
    const racking::JsonOptions how = to_json_options(options);
    const racking::Note note =
        reader->reader.read(length == 0 ? std::string() : std::string(text, length));
    const std::string record = note.to_json(how);
    *json = copy_out(record);
    if (json_length != nullptr) *json_length = record.size();
  });
}

void racking_string_free(char* string) { std::free(string); }

racking_status racking_error_status(const racking_error* error) {
  return error == nullptr ? RACKING_OK : error->status;
}
const char* racking_error_message(const racking_error* error) {
  return error == nullptr ? "" : error->message.c_str();
}
const char* racking_error_source(const racking_error* error) {
  return error == nullptr ? "" : error->source.c_str();
}
unsigned racking_error_line(const racking_error* error) {
  return error == nullptr ? 0 : error->line;
}
unsigned racking_error_column(const racking_error* error) {
  return error == nullptr ? 0 : error->column;
}
size_t racking_error_problem_count(const racking_error* error) {
  return error == nullptr ? 0 : error->problems.size();
}
const char* racking_error_problem(const racking_error* error, size_t index) {
  if (error == nullptr || index >= error->problems.size()) return nullptr;
  return error->problems[index].c_str();
}
void racking_error_free(racking_error* error) {
  if (error != out_of_memory()) delete error;
}

}  // extern "C"
