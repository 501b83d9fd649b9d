// Bytes in any common encoding into UTF-8, a chunk at a time.
//
// A byte order mark decides; then the pattern of zero bytes that UTF-16 leaves; then whether
// the bytes are well-formed UTF-8; else ICU's detector chooses between Windows-1252 and
// ISO-8859-1. As long as everything is ASCII nothing has to be decided, so a pipe is never
// read twice and a file of any size takes the same memory.
#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "byte_input.hpp"

struct UConverter;

namespace note_cleanup {

class TextInput {
 public:
  // `encoding`: a name ICU knows, or empty to find out. Throws InputError for an unknown name.
  TextInput(ByteInput& bytes, const std::string& encoding);
  ~TextInput();
  TextInput(const TextInput&) = delete;
  TextInput& operator=(const TextInput&) = delete;

  // Appends more UTF-8 to `text`; false once no more will come. Ill-formed UTF-8 passes as it is.
  bool read(std::string& text);

  // "UTF-8", "UTF-8 with a byte order mark", "Windows-1252", … ; "ASCII" if nothing else came.
  std::string encoding() const;
  // True where each non-ASCII letter was given its meaning by the choice of a code page.
  bool is_code_page() const noexcept { return state_ == State::code_page; }
  bool is_guessed() const noexcept { return guessed_; }

 private:
  enum class State { start, undecided, utf8, unicode, code_page };
  struct CloseConverter {
    void operator()(UConverter*) const noexcept;
  };

  void open(const std::string& name);
  bool fill(std::size_t wanted);
  void start();
  void start_as_asked(const std::string& mark, const std::string& zeros);
  void decide();
  void convert(std::string& text, bool last);
  void append_utf16(std::string& text, const char16_t* from, const char16_t* end);

  ByteInput& bytes_;
  std::string buffer_;
  bool ended_ = false;
  bool flushed_ = false;
  bool guessed_;  // nobody named the encoding
  std::string asked_;
  bool seen_c1_ = false;  // a byte 80–9F: Windows-1252, not ISO-8859-1
  State state_ = State::start;
  std::string name_;
  char16_t held_ = 0;  // a lead surrogate that waits for its trail
  std::unique_ptr<UConverter, CloseConverter> converter_;
};

// Whether `name` is an encoding that `TextInput` takes.
bool is_known_encoding(const std::string& name);

// What a stretch of bytes that is not ASCII is: "UTF-8", "Windows-1252" or "ISO-8859-1".
// `whole`: the stretch ends where the input does, not in the middle of a character.
std::string detect_encoding(std::string_view bytes, bool whole);

}  // namespace note_cleanup
