// What a program that has just begun pays: milliseconds until the house lexicon and a reader are
// ready, and the memory that is resident after one note. Prints
// "lexicon_ms reader_ms resident_kib of_it_private_kib lexicon_kib": the last is the lexicon's own,
// its compiled tables, mapped with the library, and what opening it made resident beside them.
#include <chrono>
#include <fstream>
#include <iostream>
#include <string>

#include "racking/racking.hpp"

namespace {

double milliseconds_since(std::chrono::steady_clock::time_point began) {
  return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - began).count();
}

long kibibytes(const std::string& key) {
  std::ifstream status("/proc/self/status");
  for (std::string line; std::getline(status, line);)
    if (line.starts_with(key + ":")) return std::stol(line.substr(key.size() + 1));
  return -1;
}

}  // namespace

int main() {
  const long private_before = kibibytes("RssAnon");
  const auto began = std::chrono::steady_clock::now();
  const racking::Lexicon lexicon = racking::Lexicon::house();
  const double lexicon_ms = milliseconds_since(began);
  const long lexicon_private = kibibytes("RssAnon") - private_before;
  const racking::Reader reader(lexicon);
  const double reader_ms = milliseconds_since(began);
  const racking::Note note = reader.read("Nose: cassis, a touch of cedar. Crisp acidity. 13.5%.");
  std::cout << lexicon_ms << ' ' << reader_ms << ' ' << kibibytes("VmRSS") << ' '
            << kibibytes("RssAnon") << ' '
            << static_cast<long>(lexicon.to_blob().size() / 1024) + lexicon_private << '\n';
  return note.aromas().empty() ? 1 : 0;
}
