// The company that phrases keep, and which family keeps the like.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>
#include <vector>

#include "racking/note.hpp"
#include "text/tokens.hpp"

namespace racking::study {

// A companion: its key begins with the letter of its kind.
using Companions = std::vector<std::pair<std::uint32_t, std::uint32_t>>;   // which, how often

// How well each family fits, best first, in nats against the families' mean company.
struct Fit { std::string_view family; double weight; };

class Company {
 public:
  static constexpr std::size_t most_companions = 32768;
  static constexpr std::size_t most_families = 64;

  // Takes up a note, and learns from its known aromas.
  void read(const Note& note);
  // Of a span of the note that was read last. Companions beyond the bound are left out.
  std::vector<std::uint32_t> companions_of(Span span);
  std::vector<Fit> fit(const Companions& companions) const;
  std::uint64_t learned() const noexcept { return learned_; }

 private:
  static constexpr std::size_t kinds = 6;   // l, m: left; r, s: right; b: either; f: an aroma

  std::uint32_t id_of(char kind, std::string_view word);
  std::size_t family_of(const Aroma& aroma);
  double background(std::uint32_t companion) const;
  const Aroma* nearest(Span span, std::size_t first, std::size_t last, bool after) const;

  const Note* note_ = nullptr;
  text::TokenizedText words_;
  std::unordered_map<std::string, std::uint32_t> ids_;
  std::vector<std::uint8_t> kind_;                                  // by companion
  std::vector<std::array<std::uint32_t, most_families>> counts_;    // by companion and family
  std::vector<std::uint64_t> all_;                                  // by companion
  std::array<std::array<std::uint64_t, most_families>, kinds> by_family_{};
  std::array<std::uint64_t, kinds> by_kind_{};
  std::array<std::uint64_t, kinds> distinct_{};
  std::array<std::uint64_t, most_families> families_seen_{};
  std::vector<std::string> families_;
  std::uint64_t learned_ = 0;
};

}  // namespace racking::study
