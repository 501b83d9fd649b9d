#include "encoding.hpp"

#include <unicode/ucnv.h>
#include <unicode/ucsdet.h>
#include <unicode/utf16.h>
#include <unicode/utf8.h>

#include <algorithm>
#include <array>
#include <utility>

namespace note_cleanup {
namespace {

constexpr std::size_t chunk_size = std::size_t{256} << 10;
constexpr std::size_t first_look = std::size_t{4} << 10;   // for the pattern of UTF-16
constexpr std::size_t window_size = std::size_t{1} << 20;  // for the choice of a code page

bool is_ascii(unsigned char byte) { return byte < 0x80; }

std::size_t ascii_prefix(std::string_view bytes) {
  const auto at = std::find_if(bytes.begin(), bytes.end(),
                               [](char c) { return !is_ascii(static_cast<unsigned char>(c)); });
  return static_cast<std::size_t>(at - bytes.begin());
}

bool has_c1(std::string_view bytes) {
  return std::any_of(bytes.begin(), bytes.end(), [](char c) {
    const auto byte = static_cast<unsigned char>(c);
    return byte >= 0x80 && byte <= 0x9F;
  });
}

struct Utf8Count {
  std::size_t well_formed = 0;  // characters of two bytes or more
  std::size_t ill_formed = 0;
};

Utf8Count count_utf8(std::string_view bytes, bool whole) {
  Utf8Count count;
  const auto* data = reinterpret_cast<const std::uint8_t*>(bytes.data());
  const auto size = static_cast<std::int32_t>(bytes.size());
  for (std::int32_t at = 0; at < size;) {
    const std::int32_t before = at;
    UChar32 code_point = 0;
    U8_NEXT(data, at, size, code_point);
    if (code_point >= 0x80) {
      ++count.well_formed;
    } else if (code_point < 0) {
      const bool cut_off = !whole && at == size && size - before < 4;
      count.ill_formed += cut_off ? 0 : 1;
    }
  }
  return count;
}

// In UTF-16, the high bytes of text in Latin letters are zero: on one side nearly always, on
// the other never. Nothing else that a note is written in looks so.
const char* utf16_by_zeros(std::string_view bytes) {
  const std::size_t units = bytes.size() / 2;
  if (units < 1) return nullptr;
  std::size_t even = 0;
  std::size_t odd = 0;
  for (std::size_t at = 0; at < units; ++at) {
    even += bytes[2 * at] == '\0' ? 1 : 0;
    odd += bytes[2 * at + 1] == '\0' ? 1 : 0;
  }
  if (odd * 10 >= units * 4 && even * 20 <= units) return "UTF-16LE";
  if (even * 10 >= units * 4 && odd * 20 <= units) return "UTF-16BE";
  return nullptr;
}

}  // namespace

bool is_known_encoding(const std::string& name) {
  UErrorCode status = U_ZERO_ERROR;
  UConverter* converter = ucnv_open(name.c_str(), &status);
  const bool known = U_SUCCESS(status) && !name.empty();
  if (converter != nullptr) ucnv_close(converter);
  return known;
}

std::string detect_encoding(std::string_view bytes, bool whole) {
  // A file of UTF-8 with a few broken bytes is still UTF-8; the reader keeps and lists them.
  const Utf8Count count = count_utf8(bytes, whole);
  if (count.ill_formed == 0 || count.well_formed >= 2 * count.ill_formed) return "UTF-8";
  std::string found = has_c1(bytes) ? "Windows-1252" : "ISO-8859-1";
  UErrorCode status = U_ZERO_ERROR;
  UCharsetDetector* detector = ucsdet_open(&status);
  ucsdet_setText(detector, bytes.data(), static_cast<std::int32_t>(bytes.size()), &status);
  std::int32_t matches = 0;
  const UCharsetMatch** all = ucsdet_detectAll(detector, &matches, &status);
  for (std::int32_t at = 0; U_SUCCESS(status) && at < matches; ++at) {
    const std::string_view name = ucsdet_getName(all[at], &status);
    if (name == "windows-1252")
      found = "Windows-1252";
    else if (name == "ISO-8859-1" && !has_c1(bytes))
      found = "ISO-8859-1";
    else
      continue;
    break;
  }
  if (detector != nullptr) ucsdet_close(detector);
  return found;
}

void TextInput::CloseConverter::operator()(UConverter* converter) const noexcept {
  ucnv_close(converter);
}

TextInput::TextInput(ByteInput& bytes, const std::string& encoding)
    : bytes_(bytes), guessed_(encoding.empty()), asked_(encoding) {
  if (!guessed_ && !is_known_encoding(encoding)) {
    throw InputError("--encoding " + encoding + ": not an encoding that is known here");
  }
}

TextInput::~TextInput() = default;

void TextInput::open(const std::string& name) {
  UErrorCode status = U_ZERO_ERROR;
  converter_.reset(ucnv_open(name.c_str(), &status));
  if (U_FAILURE(status)) throw InputError(bytes_.name() + ": no converter for " + name);
}

std::string TextInput::encoding() const {
  if (state_ == State::start || state_ == State::undecided) return "ASCII";
  if (state_ == State::code_page && seen_c1_ && guessed_) return "Windows-1252";
  return name_;
}

// Grows the buffer to `wanted` bytes, or to the end of the input.
bool TextInput::fill(std::size_t wanted) {
  while (!ended_ && buffer_.size() < wanted) {
    const std::size_t had = buffer_.size();
    buffer_.resize(had + chunk_size);
    const std::size_t got = bytes_.read(buffer_.data() + had, chunk_size);
    buffer_.resize(had + got);
    ended_ = got == 0;
  }
  return !buffer_.empty();
}

void TextInput::start() {
  fill(first_look);
  const std::string_view look = std::string_view(buffer_).substr(0, first_look);
  UErrorCode status = U_ZERO_ERROR;
  std::int32_t mark_size = 0;
  const char* found = ucnv_detectUnicodeSignature(
      look.data(), static_cast<std::int32_t>(look.size()), &mark_size, &status);
  const std::string mark = found != nullptr ? found : "";
  const char* zeros = utf16_by_zeros(look);
  if (!guessed_) {
    start_as_asked(mark, zeros != nullptr ? zeros : "");
  } else if (mark == "UTF-8") {
    state_ = State::utf8;
    name_ = "UTF-8";
  } else if (!mark.empty() || zeros != nullptr) {
    state_ = State::unicode;
    name_ = !mark.empty() ? mark : zeros;
    open(name_);
  } else {
    state_ = State::undecided;
  }
  // A mark is no part of the text, whatever was asked for, unless it is none in that encoding.
  if (!mark.empty() && name_ == mark) {
    buffer_.erase(0, static_cast<std::size_t>(mark_size));
    name_ += " with a byte order mark";
  }
}

void TextInput::start_as_asked(const std::string& mark, const std::string& zeros) {
  open(asked_);
  UErrorCode status = U_ZERO_ERROR;
  switch (ucnv_getType(converter_.get())) {
    case UCNV_UTF8:
      converter_.reset();
      state_ = State::utf8;
      name_ = "UTF-8";
      return;
    case UCNV_UTF16:  // either order: as the mark says, or as the zeros do
    case UCNV_UTF32:
      if (!mark.empty() || !zeros.empty()) open(!mark.empty() ? mark : zeros);
      [[fallthrough]];
    case UCNV_UTF16_BigEndian:
    case UCNV_UTF16_LittleEndian:
    case UCNV_UTF32_BigEndian:
    case UCNV_UTF32_LittleEndian:
    case UCNV_UTF7:
      state_ = State::unicode;
      name_ = ucnv_getName(converter_.get(), &status);
      return;
    default:
      state_ = State::code_page;
      const char* common = ucnv_getStandardName(asked_.c_str(), "MIME", &status);
      name_ = common != nullptr ? common : ucnv_getName(converter_.get(), &status);
      if (name_ == "windows-1252") name_ = "Windows-1252";
  }
}

// The buffer starts with the first byte that is not ASCII.
void TextInput::decide() {
  fill(window_size);
  name_ = detect_encoding(std::string_view(buffer_).substr(0, window_size),
                          buffer_.size() <= window_size && ended_);
  if (name_ == "UTF-8") {
    state_ = State::utf8;
    return;
  }
  // Windows-1252 is ISO-8859-1 wherever that has letters, so one converter serves both and a
  // typographic quote far down the file still comes out right.
  state_ = State::code_page;
  open("windows-1252");
}

void TextInput::append_utf16(std::string& text, const char16_t* from, const char16_t* end) {
  const auto append = [&text](UChar32 code_point) {
    std::array<std::uint8_t, U8_MAX_LENGTH> bytes{};
    std::int32_t size = 0;
    U8_APPEND_UNSAFE(bytes.data(), size, code_point);
    text.append(reinterpret_cast<const char*>(bytes.data()), static_cast<std::size_t>(size));
  };
  for (; from != end; ++from) {
    if (held_ != 0) {
      const char16_t lead = std::exchange(held_, char16_t{0});
      if (U16_IS_TRAIL(*from)) {
        append(U16_GET_SUPPLEMENTARY(lead, *from));
        continue;
      }
      append(0xFFFD);
    }
    if (U16_IS_LEAD(*from))
      held_ = *from;
    else
      append(U16_IS_TRAIL(*from) ? 0xFFFD : *from);
  }
}

void TextInput::convert(std::string& text, bool last) {
  seen_c1_ = seen_c1_ || (state_ == State::code_page && has_c1(buffer_));
  std::array<char16_t, 8192> units;
  const char* from = buffer_.data();
  const char* const end = from + buffer_.size();
  UErrorCode status = U_BUFFER_OVERFLOW_ERROR;
  while (status == U_BUFFER_OVERFLOW_ERROR) {
    status = U_ZERO_ERROR;
    char16_t* to = units.data();
    ucnv_toUnicode(converter_.get(), &to, to + units.size(), &from, end, nullptr,
                   static_cast<UBool>(last), &status);
    append_utf16(text, units.data(), to);
  }
  // A character cut off by the end of the input; the bytes before it are already out.
  if (U_FAILURE(status)) text += "\xEF\xBF\xBD";
  if (last && held_ != 0) text += "\xEF\xBF\xBD";
  buffer_.clear();
}

bool TextInput::read(std::string& text) {
  if (flushed_) return false;
  if (state_ == State::start) start();
  fill(1);
  if (state_ == State::undecided) {
    const std::size_t plain = ascii_prefix(buffer_);
    text.append(buffer_, 0, plain);
    buffer_.erase(0, plain);
    if (!buffer_.empty()) decide();
  }
  flushed_ = ended_;
  if (converter_ != nullptr) {
    convert(text, ended_);
  } else {
    text += buffer_;
    buffer_.clear();
  }
  return !flushed_;
}

}  // namespace note_cleanup
