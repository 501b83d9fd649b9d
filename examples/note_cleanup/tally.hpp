// What a whole run says, added up note by note.
#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include <racking/racking.hpp>

#include "row.hpp"

namespace note_cleanup {

// The little of a note that sums need; made where the note is read, on any thread.
struct NoteFacts {
  std::vector<std::uint32_t> families;  // descriptor indices
  std::array<std::optional<racking::Interval>, racking::dimension_count> ranges;
  std::array<bool, racking::dimension_count> conflicts{};
  std::string condition;  // only if a colleague would look at it again
  bool sound = false;
  std::string maturity;
  double coverage = 0;
  bool empty = false;  // nothing at all was found in it
  std::vector<std::string> changes;
};

NoteFacts facts_of(const racking::Note&, const Row&);

// A bottle to look at again.
struct Suspect {
  std::string id;
  std::string condition;
  std::size_t shown = 0;  // the note's place on the page, from 1; 0: not shown
};

inline constexpr std::size_t most_suspects = 500;

struct Tally {
  std::size_t notes = 0;
  std::size_t unread = 0;
  std::size_t empty = 0;
  std::map<std::uint32_t, std::size_t> families;  // notes that mention one
  // Notes whose range covers a step.
  std::array<std::array<std::size_t, 5>, racking::dimension_count> steps{};
  std::array<std::size_t, racking::dimension_count> stated{};
  std::array<std::size_t, racking::dimension_count> conflicts{};
  std::vector<Suspect> suspects;  // the first `most_suspects`
  std::size_t suspect_count = 0;
  std::size_t sound_count = 0;
  std::map<std::string, std::size_t> maturity;
  std::map<std::string, std::size_t> changes;
  double coverage = 0;  // the sum

  void add(const NoteFacts&, const std::string& id, std::size_t shown);
};

// For --summary: plain lines. `inputs`: one line an input, as it was read.
std::string summary_text(const Tally&, const racking::Lexicon&,
                         const std::vector<std::string>& inputs);
// "early 1, mid-life 4", from early to late.
std::string maturity_counts(const Tally&);
// Families by how many notes mention them, most first.
std::vector<std::pair<racking::Descriptor, std::size_t>> families_by_count(const Tally&,
                                                                           const racking::Lexicon&);

}  // namespace note_cleanup
