// note_cleanup: a file of messy notes comes back clean. See --help.
#include <csignal>
#include <exception>
#include <iostream>

#include "cleanup.hpp"
#include "lexicons.hpp"
#include "output.hpp"

namespace {

constexpr int usage = 2;
constexpr int unreadable = 3;

int check(const note_cleanup::Options& options) {
  std::string about;
  const auto problems = note_cleanup::check_lexicon(options.lexicons, options.check_lexicon, about);
  for (const auto& problem : problems) std::cerr << problem.to_string() << '\n';
  if (!problems.empty()) {
    std::cerr << options.check_lexicon << ": " << problems.size()
              << (problems.size() == 1 ? " problem\n" : " problems\n");
    return unreadable;
  }
  std::cout << options.check_lexicon << ": no problem; " << about << '\n';
  return 0;
}

int fail(const std::string& message, int code) {
  std::cerr << "note_cleanup: " << message << '\n';
  return code;
}

int run(int argument_count, char** arguments) {
  const note_cleanup::Parsed parsed = note_cleanup::parse_options(argument_count, arguments);
  if (parsed.exit_code) return *parsed.exit_code;
  if (!parsed.options.check_lexicon.empty()) return check(parsed.options);
  return note_cleanup::clean_up(parsed.options,
                                note_cleanup::load_lexicons(parsed.options.lexicons));
}

}  // namespace

int main(int argument_count, char** arguments) {
  std::signal(SIGPIPE, SIG_IGN);  // a reader that leaves shows as a failed write
  try {
    return run(argument_count, arguments);
  } catch (const note_cleanup::ReaderLeft&) {
    return 0;
  } catch (const note_cleanup::UsageError& error) {
    return fail(error.what(), usage);
  } catch (const racking::Error& error) {
    for (const auto& problem : error.problems()) std::cerr << problem.to_string() << '\n';
    return fail(error.what(), unreadable);
  } catch (const std::exception& error) {  // inputs, outputs, memory
    return fail(error.what(), unreadable);
  }
}
