// Reviewed tables in tests/data: tab-separated, '#' starts a comment line.
#pragma once

#include <fstream>
#include <string>
#include <vector>

inline std::vector<std::vector<std::string>> read_table(const std::string& name) {
  std::vector<std::vector<std::string>> out;
  std::ifstream in(RACKING_TEST_DATA_DIR "/" + name);
  for (std::string line; std::getline(in, line);) {
    if (line.empty() || line.starts_with('#')) continue;
    std::vector<std::string> row(1);
    for (const char c : line)
      if (c == '\t') row.emplace_back(); else row.back() += c;
    out.push_back(row);
  }
  return out;
}
