// Reads notes.
#pragma once

#include <cstddef>
#include <memory>
#include <string>
#include <string_view>

#include "racking/export.hpp"
#include "racking/lexicon.hpp"
#include "racking/note.hpp"

namespace racking {
inline namespace v1 {

struct ReaderOptions {
  /// The largest note `read` takes, in bytes. At most 2^31 - 1.
  std::size_t size_limit = 16u << 20;
  /// The year in which the notes were tasted, for the age of a stated vintage; 0 where it is
  /// not known, and then a vintage is never held against what the wine seems. No clock is read.
  int tasting_year = 0;
};

/// Reads notes against one lexicon. Immutable; copies share everything; safe
/// to use from many threads at once.
class RACKING_EXPORT Reader {
 public:
  explicit Reader(Lexicon lexicon = Lexicon::house(), ReaderOptions = {});
  Reader(const Reader&);
  Reader(Reader&&) noexcept;
  Reader& operator=(const Reader&);
  Reader& operator=(Reader&&) noexcept;
  ~Reader();

  /// Reads one note. Never fails for what a note says; ill-formed UTF-8 is kept
  /// and listed in `problems`. Throws `Error` (text_too_large) past the limit.
  /// Cost: one pass, linear in the text.
  Note read(std::string text) const;

  const Lexicon& lexicon() const noexcept;

  struct Machine;

 private:
  std::shared_ptr<const Machine> machine_;
};

/// An example in a lexicon that does not read as it is marked.
/// Reads every example of a lexicon folder through the whole reader and
/// returns what fails, each located in its file. Empty: all good.
RACKING_EXPORT std::vector<Problem> check_examples(const std::string& folder, const Reader&);

}  // namespace v1
}  // namespace racking
