// The one exception type of the library.
#pragma once

#include <cstdint>
#include <stdexcept>
#include <string>
#include <vector>

#include "racking/export.hpp"

namespace racking {
inline namespace v1 {

enum class ErrorCode : std::uint8_t {
  lexicon_invalid,     ///< one or more lexicon files have problems
  lexicon_unreadable,  ///< a lexicon folder or file cannot be read
  lexicon_corrupt,     ///< a compiled lexicon fails its checks
  text_too_large,      ///< a note exceeds the reader's size limit
  bad_argument,        ///< a call that no input could make right
};

/// One thing that is wrong in a lexicon file, and how to mend it.
/// `line` and `column` count from 1; column counts code points. 0: not known.
struct Problem {
  std::string source;
  std::uint32_t line = 0;
  std::uint32_t column = 0;
  std::string message;  ///< what is wrong
  std::string mend;     ///< how to mend it

  /// "file:line:column: what is wrong (how to mend it)"
  RACKING_EXPORT std::string to_string() const;
  friend bool operator==(const Problem&, const Problem&) = default;
};

/// What every failing call throws. `what()` is the message with its place.
class RACKING_EXPORT Error : public std::runtime_error {
 public:
  Error(ErrorCode code, const std::string& message);
  /// For lexicon problems: the first gives source, line and column.
  Error(ErrorCode code, std::vector<Problem> problems);
  ~Error() override;
  Error(const Error&);
  Error& operator=(const Error&);

  ErrorCode code() const noexcept { return code_; }
  const std::string& message() const noexcept { return message_; }
  const std::string& source() const noexcept { return source_; }
  std::uint32_t line() const noexcept { return line_; }
  std::uint32_t column() const noexcept { return column_; }
  /// Every problem found, in file order; empty unless a lexicon failed.
  const std::vector<Problem>& problems() const noexcept { return problems_; }

 private:
  ErrorCode code_;
  std::string message_;
  std::string source_;
  std::uint32_t line_ = 0;
  std::uint32_t column_ = 0;
  std::vector<Problem> problems_;
};

}  // namespace v1
}  // namespace racking
