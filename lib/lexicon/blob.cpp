#include "lexicon/blob.hpp"

#include <cstring>
#include <type_traits>

#include "lexicon/hash.hpp"

namespace racking::lexicon {
namespace {

// Same input, same bytes: no record may hold padding.
#define X(Type, name)                                          \
  static_assert(std::is_trivially_copyable_v<Type>);           \
  static_assert(std::has_unique_object_representations_v<Type> \
                || std::is_same_v<Type, MeasureRecord> || std::is_same_v<Type, UnitRecord>);
RACKING_LEXICON_TABLES(X)
#undef X
static_assert(sizeof(MeasureRecord) == 4 * sizeof(StringRef) + 5 * sizeof(double) + 8);
static_assert(sizeof(UnitRecord) == 4 * sizeof(StringRef) + 2 * sizeof(double) + 8);

class Writer {
 public:
  explicit Writer(std::size_t size) {
    bytes_.reserve(size);
    bytes_.resize(sizeof(BlobHeader) + section_count * sizeof(BlobSection));
  }

  void add(const void* data, std::size_t count, std::size_t element_size) {
    bytes_.resize((bytes_.size() + blob_alignment - 1) / blob_alignment * blob_alignment);
    const BlobSection section{bytes_.size(), static_cast<std::uint32_t>(count),
                              static_cast<std::uint32_t>(element_size)};
    std::memcpy(bytes_.data() + sizeof(BlobHeader) + next_++ * sizeof section, &section,
                sizeof section);
    if (count != 0) bytes_.append(static_cast<const char*>(data), count * element_size);
  }

  std::string finish() {
    BlobHeader header{blob_magic, format_version, section_count, bytes_.size(), 0, {}};
    header.checksum = checksum(std::string_view(bytes_).substr(sizeof header));
    header.digest = hexadecimal(header.checksum);
    std::memcpy(bytes_.data(), &header, sizeof header);
    return std::move(bytes_);
  }

 private:
  std::string bytes_;
  std::size_t next_ = 0;
};

}  // namespace

std::array<char, 16> hexadecimal(std::uint64_t checksum) noexcept {
  std::array<char, 16> out;
  for (std::size_t i = 0; i < out.size(); ++i)
    out[i] = "0123456789abcdef"[checksum >> (60 - 4 * i) & 15u];
  return out;
}

std::string write_blob(const Tables& tables, std::string_view name, std::string_view version) {
  std::size_t size = sizeof(BlobHeader) + name.size() + version.size() +
                     section_count * (sizeof(BlobSection) + blob_alignment);
#define X(Type, table) size += tables.table.size() * sizeof(Type);
  RACKING_LEXICON_TABLES(X)
#undef X
  Writer writer(size);
#define X(Type, table) writer.add(tables.table.data(), tables.table.size(), sizeof(Type));
  RACKING_LEXICON_TABLES(X)
#undef X
  writer.add(name.data(), name.size(), 1);
  writer.add(version.data(), version.size(), 1);
  return writer.finish();
}

}  // namespace racking::lexicon
