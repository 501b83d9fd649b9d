/*
 * The C interface of Racking: open a reader, read notes to JSON. Plain C99.
 *
 * Strings are NUL-terminated UTF-8 unless a length goes with them. A function that can fail
 * returns a racking_status; where `error` is not NULL it then receives an error object, which
 * the caller frees with racking_error_free, and NULL on success. Out parameters are NULL after
 * a failure. No C++ exception crosses this interface, and nothing is printed.
 *
 * Threads: a racking_reader is immutable, and any number of threads may read with one at once;
 * only racking_reader_close must come after all of them. Other objects belong to one thread at a
 * time. There is no global state, no set-up and no teardown.
 */
#ifndef RACKING_RACKING_H
#define RACKING_RACKING_H

#include <stddef.h>

#ifndef RACKING_EXPORT
#if defined(RACKING_STATIC)
#define RACKING_EXPORT
#else
#define RACKING_EXPORT __attribute__((visibility("default")))
#endif
#endif

#ifdef __cplusplus
extern "C" {
#endif

typedef struct racking_reader racking_reader;
typedef struct racking_error racking_error;

typedef enum racking_status {
  RACKING_OK = 0,
  RACKING_LEXICON_INVALID = 1,    /* lexicon files have problems: see racking_error_problem */
  RACKING_LEXICON_UNREADABLE = 2, /* a lexicon folder or file cannot be read */
  RACKING_LEXICON_CORRUPT = 3,    /* a compiled lexicon fails its checks */
  RACKING_TEXT_TOO_LARGE = 4,     /* the note exceeds the reader's size limit */
  RACKING_BAD_ARGUMENT = 5,       /* a call that no input could make right */
  RACKING_OUT_OF_MEMORY = 6,
  RACKING_INTERNAL = 7            /* a defect of the library */
} racking_status;

typedef enum racking_depth {
  RACKING_FULL = 0, /* every member of the record */
  RACKING_PLAIN = 1 /* no tidy text, cues or cautions, no empty or null members */
} racking_depth;

/* The unit of the offsets in a record. */
typedef enum racking_offsets {
  RACKING_BYTES = 0,
  RACKING_CODEPOINTS = 1,
  RACKING_UTF16 = 2
} racking_offsets;

/* How a record is written. Start from racking_read_options_default(). */
typedef struct racking_read_options {
  size_t struct_size;      /* sizeof(racking_read_options), so that the struct can grow */
  racking_depth depth;     /* default RACKING_FULL */
  racking_offsets offsets; /* default RACKING_CODEPOINTS */
  const char* id;          /* the record's id; NULL or "": written as null */
  int tidy;                /* full only: 0 leaves the tidy text out; default 1 */
  int explain;             /* 1 gives each reading the reasons for it; default 0 */
} racking_read_options;

RACKING_EXPORT racking_read_options racking_read_options_default(void);

/* The version of the library that runs, "0.1.0". Static storage. */
RACKING_EXPORT const char* racking_version(void);

/*
 * Opens a reader. lexicon_folder: a whole lexicon of TOML files; NULL: the embedded house
 * lexicon, which needs no files. overlays: overlay_count folders, laid on in turn; may be NULL
 * when the count is 0. size_limit: the largest note in bytes; 0: 16 MiB. The caller closes
 * *reader with racking_reader_close. Fails with a lexicon status, RACKING_BAD_ARGUMENT or
 * RACKING_OUT_OF_MEMORY. Cost: a few milliseconds for the house lexicon; a compilation for TOML.
 */
RACKING_EXPORT racking_status racking_reader_open(const char* lexicon_folder,
                                                  const char* const* overlays,
                                                  size_t overlay_count, size_t size_limit,
                                                  racking_reader** reader, racking_error** error);

/* NULL is allowed. */
RACKING_EXPORT void racking_reader_close(racking_reader* reader);

/* Of the reader's lexicon; they live as long as the reader. The digest is 16 hexadecimal
 * digits: equal content, equal digest. NULL for a NULL reader. */
RACKING_EXPORT const char* racking_lexicon_name(const racking_reader* reader);
RACKING_EXPORT const char* racking_lexicon_version(const racking_reader* reader);
RACKING_EXPORT const char* racking_lexicon_digest(const racking_reader* reader);

/*
 * Reads one note of `length` bytes into a JSON record, as the schema has it. Any bytes will do:
 * ill-formed UTF-8 is kept and listed in the record's problems. options: NULL for the defaults.
 * *json is NUL-terminated, its length without the NUL goes to *json_length (may be NULL), and
 * the caller frees it with racking_string_free. Fails only with RACKING_TEXT_TOO_LARGE,
 * RACKING_BAD_ARGUMENT or RACKING_OUT_OF_MEMORY. Cost: linear in the text.
 */
RACKING_EXPORT racking_status racking_read_json(const racking_reader* reader, const char* text,
                                                size_t length,
                                                const racking_read_options* options, char** json,
                                                size_t* json_length, racking_error** error);

/* NULL is allowed. */
RACKING_EXPORT void racking_string_free(char* string);

/* What went wrong. Strings live as long as the error. line and column count from 1 (column in
 * code points); 0: not known. */
RACKING_EXPORT racking_status racking_error_status(const racking_error* error);
RACKING_EXPORT const char* racking_error_message(const racking_error* error);
RACKING_EXPORT const char* racking_error_source(const racking_error* error);
RACKING_EXPORT unsigned racking_error_line(const racking_error* error);
RACKING_EXPORT unsigned racking_error_column(const racking_error* error);
/* Every problem of a lexicon, "file:line:column: what is wrong (how to mend it)". NULL past the
 * last. */
RACKING_EXPORT size_t racking_error_problem_count(const racking_error* error);
RACKING_EXPORT const char* racking_error_problem(const racking_error* error, size_t index);
/* NULL is allowed. */
RACKING_EXPORT void racking_error_free(racking_error* error);

#ifdef __cplusplus
}
#endif

#endif
