// Hashes of keys and of whole blobs. Our own, so that a blob means the same everywhere.
#pragma once

#include <cstdint>
#include <string_view>

namespace racking::lexicon {

// 64-bit checksum of many bytes; four lanes, so that memory and not the sum is the limit.
std::uint64_t checksum(std::string_view bytes) noexcept;

}  // namespace racking::lexicon
