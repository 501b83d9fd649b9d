// HTML tags and entities that exports leave in notes.
#pragma once

#include <string>
#include <string_view>

namespace note_cleanup {

// What was found and resolved.
struct MarkupCount {
  std::size_t entities = 0;
  std::size_t tags = 0;
  bool any() const noexcept { return entities + tags > 0; }
};

// Resolves entities, drops tags, and breaks lines where <br>, <p>, <li> and their like did.
// What cannot be markup stays as it is: "a < b", "<3", "salt & pepper", "R&D". Text that was
// escaped twice is resolved twice. Bytes outside markup are untouched.
std::string resolve_markup(std::string text, MarkupCount& count);

}  // namespace note_cleanup
