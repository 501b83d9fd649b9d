// Uses the C++ interface as another program would: consumer LEXICON_FOLDER.
#include <racking/racking.hpp>

#include <iostream>
#include <string>

namespace {

int failures = 0;

void check(bool holds, const char* what) {
  if (holds) return;
  std::cerr << "failed: " << what << '\n';
  ++failures;
}

void check_note(const racking::Reader& reader) {
  const racking::Note note = reader.read("Nose: cassis. Crisp acidity.");
  check(note.aromas().size() == 1, "one aroma is read");
  if (note.aromas().empty()) return;
  const racking::Aroma& aroma = note.aromas()[0];
  check(aroma.descriptor.id() == "blackcurrant", "cassis is blackcurrant");
  check(note.text(aroma.span) == "cassis", "the span is the word");
  check(aroma.phase == racking::Phase::nose, "it is on the nose");
  check(note.structure().acidity.stated(), "acidity is stated");
  check(racking::parse<racking::Hue>("old gold") == racking::Hue::old_gold, "hues parse");
}

// The exception must be caught across the library's edge, by its type.
void check_error() {
  try {
    racking::Lexicon::load("/nowhere/at/all");
    check(false, "a folder that is not there throws");
  } catch (const racking::Error& error) {
    check(error.code() == racking::ErrorCode::lexicon_unreadable, "the code says so");
  }
}

}  // namespace

int main(int count, char** arguments) {
  if (count != 2) return 2;
  const racking::Reader reader;
  check_note(reader);
  check_error();
  check(racking::Lexicon::load(arguments[1]).digest() == reader.lexicon().digest(),
        "the installed lexicon is the embedded one");
  std::cout << "racking " << racking::version() << ", " << reader.lexicon().descriptor_count()
            << " descriptors\n";
  return failures == 0 ? 0 : 1;
}
