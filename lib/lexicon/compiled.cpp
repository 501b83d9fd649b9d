#include "lexicon/compiled.hpp"

#include <cstddef>
#include <cstdint>
#include <cstring>
#include <utility>

#include "lexicon/blob.hpp"
#include "lexicon/check.hpp"
#include "lexicon/hash.hpp"
#include "racking/error.hpp"

namespace racking::lexicon {
namespace {

[[noreturn]] void corrupt(const std::string& why) {
  throw Error(ErrorCode::lexicon_corrupt, "the compiled lexicon is corrupt: " + why);
}

void check_header(std::string_view blob) {
  BlobHeader header;
  if (blob.size() < sizeof header + section_count * sizeof(BlobSection)) corrupt("it is too short");
  std::memcpy(&header, blob.data(), sizeof header);
  if (header.magic != blob_magic) corrupt("it does not begin as one");
  if (header.format != format_version || header.sections != section_count)
    corrupt("it is of another format version; compile it again");
  if (header.size != blob.size()) corrupt("its size is not what it says");
  if (header.checksum != checksum(blob.substr(sizeof header))) corrupt("its checksum differs");
  if (header.digest != hexadecimal(header.checksum)) corrupt("its digest differs");
}

// The next section, as elements of one type.
template <class Type>
std::span<const Type> section(std::string_view blob, std::size_t& next) {
  BlobSection at;
  std::memcpy(&at, blob.data() + sizeof(BlobHeader) + next++ * sizeof at, sizeof at);
  if (at.element_size != sizeof(Type) || at.offset % blob_alignment != 0) corrupt("a section is odd");
  if (at.offset > blob.size() || (blob.size() - at.offset) / sizeof(Type) < at.count)
    corrupt("a section ends outside");
  return {reinterpret_cast<const Type*>(blob.data() + at.offset), at.count};
}

bool is_aligned(const void* at) {
  return reinterpret_cast<std::uintptr_t>(at) % alignof(std::max_align_t) == 0;
}

std::string_view text(std::span<const char> characters) {
  return {characters.data(), characters.size()};
}

}  // namespace

std::shared_ptr<const CompiledLexicon> CompiledLexicon::from_blob(std::string blob) {
  std::shared_ptr<CompiledLexicon> out(new CompiledLexicon);
  out->owned_ = std::move(blob);
  out->attach(out->owned_);
  return out;
}

std::shared_ptr<const CompiledLexicon> CompiledLexicon::from_static(std::string_view blob) {
  if (!is_aligned(blob.data())) return from_blob(std::string(blob));
  std::shared_ptr<CompiledLexicon> out(new CompiledLexicon);
  out->attach(blob);
  return out;
}

void CompiledLexicon::attach(std::string_view bytes) {
  check_header(bytes);
  if (!is_aligned(bytes.data())) corrupt("it is not aligned");
  std::size_t next = 0;
#define X(Type, table) table = section<Type>(bytes, next);
  RACKING_LEXICON_TABLES(X)
#undef X
  name = text(section<char>(bytes, next));
  version = text(section<char>(bytes, next));
  digest = bytes.substr(offsetof(BlobHeader, digest), sizeof(BlobHeader::digest));
  blob = bytes;
  if (const char* wrong = check_tables(*this)) corrupt(wrong);
}

}  // namespace racking::lexicon
