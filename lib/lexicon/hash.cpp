#include "lexicon/hash.hpp"

#include <array>

namespace racking::lexicon {

std::uint64_t checksum(std::string_view bytes) noexcept {
  using namespace hash;
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
