#include "lexicon/suggest.hpp"

#include <algorithm>
#include <cstddef>

namespace racking::lexicon {
namespace {

// Levenshtein distance, a neighbouring pair swapped counted as one. Bytes: ids are ASCII.
std::size_t distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> two_ago(b.size() + 1), last(b.size() + 1), row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) last[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t change = a[i - 1] == b[j - 1] ? 0 : 1;
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + change});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
        row[j] = std::min(row[j], two_ago[j - 2] + 1);
    }
    std::swap(two_ago, last);
    std::swap(last, row);
  }
  return last[b.size()];
}

}  // namespace

std::string_view nearest(std::string_view word, std::span<const std::string_view> candidates) {
  std::string_view best;
  std::size_t least = std::max<std::size_t>(1, word.size() / 3) + 1;
  for (const std::string_view candidate : candidates) {
    const std::size_t longer = std::max(word.size(), candidate.size());
    const std::size_t shorter = std::min(word.size(), candidate.size());
    if (longer - shorter >= least) continue;
    const std::size_t cost = distance(word, candidate);
    if (cost < least) {
      least = cost;
      best = candidate;
    }
  }
  return best;
}

std::string suggestion(std::string_view word, std::span<const std::string_view> candidates,
                       std::string_view otherwise) {
  const std::string_view near = nearest(word, candidates);
  if (!near.empty()) return "did you mean '" + std::string(near) + "'?";
  if (candidates.empty() || candidates.size() > 40) return std::string(otherwise);
  std::string out = "one of: ";
  for (std::size_t i = 0; i < candidates.size(); ++i) {
    if (i != 0) out += ", ";
    out += candidates[i];
  }
  return out;
}

}  // namespace racking::lexicon
