// Folding into a buffer that is kept from note to note.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace racking::text {

struct KeyLengths {
  std::size_t plain;   // bytes appended of fold(word)
  std::size_t exact;   // and, if it differs, of fold_exact(word) after it; else 0
};

// Allocates nothing of its own for Latin text that is composed.
KeyLengths append_keys(std::string_view word, std::string& out);

// Copies `text` with ASCII capitals made small; other bytes as they are.
void copy_ascii_lower(std::string_view text, char* out) noexcept;

}  // namespace racking::text
