/* Uses the C interface as another program would: consumer LEXICON_FOLDER. */
#include <racking/racking.h>

#include <stdio.h>
#include <string.h>

static int failures = 0;

static void check(int holds, const char* what) {
  if (!holds) {
    fprintf(stderr, "failed: %s\n", what);
    ++failures;
  }
}

static void check_record(const racking_reader* reader) {
  static const char note[] = "Nose: cassis. Crisp acidity.";
  racking_read_options options = racking_read_options_default();
  racking_error* error = NULL;
  char* json = NULL;
  size_t length = 0;
  options.id = "row 7";
  check(racking_read_json(reader, note, strlen(note), &options, &json, &length, &error) ==
            RACKING_OK,
        "a note is read");
  check(error == NULL, "success has no error");
  if (json == NULL) return;
  check(strlen(json) == length, "the length is the string's");
  check(strstr(json, "\"schema\":1") != NULL || strstr(json, "\"schema\": 1") != NULL,
        "the record names its schema");
  check(strstr(json, "\"row 7\"") != NULL, "the record has its id");
  check(strstr(json, "\"blackcurrant\"") != NULL, "cassis is blackcurrant");
  racking_string_free(json);
}

static void check_errors(void) {
  racking_reader* reader = NULL;
  racking_error* error = NULL;
  check(racking_reader_open("/nowhere/at/all", NULL, 0, 0, &reader, &error) ==
            RACKING_LEXICON_UNREADABLE,
        "a folder that is not there is an error");
  check(reader == NULL && error != NULL, "a failure gives an error and no reader");
  check(racking_error_status(error) == RACKING_LEXICON_UNREADABLE, "the error has the status");
  check(strstr(racking_error_message(error), "/nowhere/at/all") != NULL ||
            strstr(racking_error_source(error), "/nowhere/at/all") != NULL,
        "the error names the folder");
  racking_error_free(error);
}

int main(int count, char** arguments) {
  racking_reader *house = NULL, *loaded = NULL;
  racking_error* error = NULL;
  if (count != 2) return 2;
  check(racking_reader_open(NULL, NULL, 0, 0, &house, &error) == RACKING_OK, "the house opens");
  if (house == NULL) {
    fprintf(stderr, "%s\n", racking_error_message(error));
    return 1;
  }
  check_record(house);
  check_errors();
  check(racking_reader_open(arguments[1], NULL, 0, 0, &loaded, NULL) == RACKING_OK,
        "the installed lexicon opens");
  check(loaded != NULL &&
            strcmp(racking_lexicon_digest(loaded), racking_lexicon_digest(house)) == 0,
        "the installed lexicon is the embedded one");
  printf("racking %s, lexicon %s %s\n", racking_version(), racking_lexicon_name(house),
         racking_lexicon_digest(house));
  racking_reader_close(loaded);
  racking_reader_close(house);
  return failures == 0 ? 0 : 1;
}
