#include "racking/error.hpp"

#include <utility>

namespace racking {
inline namespace v1 {

std::string Problem::to_string() const {
  std::string out = source;
  if (line != 0) {
    out += ':';
    out += std::to_string(line);
    if (column != 0) {
      out += ':';
      out += std::to_string(column);
    }
  }
  if (!out.empty()) out += ": ";
  out += message;
  if (!mend.empty()) {
    out += " (";
    out += mend;
    out += ')';
  }
  return out;
}

namespace {

std::string summary(const std::vector<Problem>& problems) {
  if (problems.empty()) return "the lexicon has problems";
  std::string out = problems.front().to_string();
  if (problems.size() > 1) out += "; and " + std::to_string(problems.size() - 1) + " more";
  return out;
}

}  // namespace

Error::Error(ErrorCode code, const std::string& message)
    : std::runtime_error(message), code_(code), message_(message) {}

Error::Error(ErrorCode code, std::vector<Problem> problems)
    : std::runtime_error(summary(problems)), code_(code), problems_(std::move(problems)) {
  if (problems_.empty()) {
    message_ = what();
    return;
  }
  const Problem& first = problems_.front();
  message_ = first.message;
  source_ = first.source;
  line_ = first.line;
  column_ = first.column;
}

Error::~Error() = default;
Error::Error(const Error&) = default;
Error& Error::operator=(const Error&) = default;

}  // namespace v1
}  // namespace racking
