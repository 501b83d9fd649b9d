#include "lexicon/hash.hpp"

#include <array>
#include <bit>
#include <cstddef>
#include <cstring>

#include "lexicon/compiled.hpp"

namespace racking::lexicon {
namespace {

// Odd constants with well mixed bits: the fractions of the golden ratio and of √3, √5, √7.
constexpr std::uint64_t k0 = 0x9e3779b97f4a7c15u, k1 = 0xbb67ae8584caa73bu,
                        k2 = 0x3c6ef372fe94f82bu, k3 = 0xa54ff53a5f1d36f1u;

std::uint64_t load(const char* at) noexcept {
  std::uint64_t value;
  std::memcpy(&value, at, sizeof value);
  return value;
}

std::uint64_t load_tail(const char* at, std::size_t length) noexcept {
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

}  // namespace

std::uint64_t hash_key(std::string_view key) noexcept {
  std::uint64_t h = k0 ^ key.size();
  const char* at = key.data();
  std::size_t left = key.size();
  for (; left >= 8; at += 8, left -= 8) h = std::rotl((h ^ load(at)) * k1, 31);
  if (left != 0) h = (h ^ load_tail(at, left)) * k1;
  return mix(h);
}

std::uint64_t hash_edge(NodeId from, WordId word) noexcept {
  return mix((std::uint64_t{from} << 32 | word) * k0);
}

std::uint64_t checksum(std::string_view bytes) noexcept {
  std::array<std::uint64_t, 4> lane{k0, k1, k2, k3};
  const char* at = bytes.data();
  std::size_t left = bytes.size();
  for (; left >= 32; at += 32, left -= 32)
    for (std::size_t i = 0; i < 4; ++i)
      lane[i] = std::rotl((lane[i] ^ load(at + 8 * i)) * k1, 29);
  std::uint64_t h = k2 ^ bytes.size();
  for (const std::uint64_t one : lane) h = mix(h ^ one) + k3;
  return h ^ hash_key({at, left});
}

}  // namespace racking::lexicon
