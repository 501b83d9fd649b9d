// Hashes of keys and of whole blobs. Our own, so that a blob means the same everywhere.
#pragma once

#include <bit>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <string_view>

namespace racking::lexicon {

namespace hash {

// Odd constants with well mixed bits: the fractions of the golden ratio and of √3, √5, √7.
inline constexpr std::uint64_t k0 = 0x9e3779b97f4a7c15u, k1 = 0xbb67ae8584caa73bu,
                               k2 = 0x3c6ef372fe94f82bu, k3 = 0xa54ff53a5f1d36f1u;

inline std::uint64_t load(const char* at) noexcept {
  std::uint64_t value;
  std::memcpy(&value, at, sizeof value);
  return value;
}

inline std::uint64_t load_tail(const char* at, std::size_t length) noexcept {
  std::uint64_t value = 0;
  std::memcpy(&value, at, length);
  return value;
}

constexpr std::uint64_t mix(std::uint64_t h) noexcept {
  h ^= h >> 32;
  h *= k1;
  h ^= h >> 29;
  h *= k3;
  return h ^ (h >> 32);
}

}  // namespace hash

// 64-bit hash of a key, the same in the builder and the view.
inline std::uint64_t hash_key(std::string_view key) noexcept {
  std::uint64_t h = hash::k0 ^ key.size();
  const char* at = key.data();
  std::size_t left = key.size();
  for (; left >= 8; at += 8, left -= 8) h = std::rotl((h ^ hash::load(at)) * hash::k1, 31);
  if (left != 0) h = (h ^ hash::load_tail(at, left)) * hash::k1;
  return hash::mix(h);
}

inline std::uint64_t hash_edge(std::uint32_t from, std::uint32_t word) noexcept {
  return hash::mix((std::uint64_t{from} << 32 | word) * hash::k0);
}

// 64-bit checksum of many bytes; four lanes, so that memory and not the sum is the limit.
std::uint64_t checksum(std::string_view bytes) noexcept;

}  // namespace racking::lexicon
