// The layout of the blob: a header, a table of sections, the sections.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

#include "lexicon/compiled.hpp"

namespace racking::lexicon {

// Raised whenever a record or the meaning of a field changes.
inline constexpr std::uint32_t format_version = 8;
inline constexpr std::array<char, 8> blob_magic{'R', 'A', 'C', 'K', 'L', 'E', 'X', '\n'};
inline constexpr std::size_t blob_alignment = 16;

// Numbers are in the byte order of the machine; a blob of another order fails at `format`.
struct BlobHeader {
  std::array<char, 8> magic;
  std::uint32_t format, sections;
  std::uint64_t size;
  std::uint64_t checksum;                // of everything after the header
  std::array<char, 16> digest;           // the checksum in hexadecimal
};
// The checksum as the digest writes it.
std::array<char, 16> hexadecimal(std::uint64_t checksum) noexcept;

struct BlobSection {
  std::uint64_t offset;
  std::uint32_t count, element_size;
};

#define X(Type, name) +1
// The tables, then name and version.
inline constexpr std::uint32_t section_count = 0 RACKING_LEXICON_TABLES(X) + 2;
#undef X

}  // namespace racking::lexicon
