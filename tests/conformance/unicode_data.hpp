// Where the conformance tests find the Unicode Character Database and their own data.
#pragma once

#include <cstdlib>
#include <filesystem>
#include <string>

namespace racking::tests {

inline std::string directory(const char* variable, const char* otherwise) {
  const char* set = std::getenv(variable);
  return set != nullptr && *set != '\0' ? set : otherwise;
}

// Debian's package unicode-data (Unicode 15.0), unless RACKING_UNICODE_DATA_DIR says otherwise.
#ifndef RACKING_UNICODE_DATA_DIR
#define RACKING_UNICODE_DATA_DIR "/usr/share/unicode"
#endif
inline std::string unicode_data(const std::string& file) {
  return directory("RACKING_UNICODE_DATA_DIR", RACKING_UNICODE_DATA_DIR) + "/" + file;
}

inline std::string test_data(const std::string& file) {
#ifdef RACKING_TEST_DATA_DIR
  const std::string otherwise = RACKING_TEST_DATA_DIR;
#else
  const std::string otherwise =
      (std::filesystem::path(__FILE__).parent_path().parent_path() / "data").string();
#endif
  return directory("RACKING_TEST_DATA_DIR", otherwise.c_str()) + "/" + file;
}

}  // namespace racking::tests
