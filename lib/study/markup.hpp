// Sentences marked up with what they mean: the lexicon's examples and the corpus.
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "racking/note.hpp"

namespace racking::study {

// One thing a marked-up sentence says: `<a d=blackcurrant>cassis</a>`.
struct Mark {
  char tag = 'a';                          // a, s, t, h, f, q, n, w
  std::vector<Span> parts;                 // one, unless the item is in pieces
  std::map<std::string, std::string, std::less<>> attributes;

  Span hull() const noexcept { return {parts.front().begin, parts.back().end}; }
  std::string_view attribute(std::string_view name) const {
    const auto it = attributes.find(name);
    return it == attributes.end() ? std::string_view{} : std::string_view(it->second);
  }
};

struct MarkedText {
  std::string text;                        // without the tags; "\n" made a line break
  std::vector<Mark> marks;                 // by first byte
};

// Takes the mark-up out. Throws Error (bad_argument) with the place of a tag that is not closed or
// not known.
MarkedText parse_marked(std::string_view marked);

// How a reading compares with its marks.
struct Tally {
  int aromas_right = 0, aromas_missed = 0, aromas_extra = 0;       // by span
  int families_right = 0, families_wrong = 0;
  int stances_right = 0, stances_wrong = 0;
  int phases_right = 0, phases_wrong = 0;
  int asides_right = 0, asides_wrong = 0;                          // kept out of the aromas
  int structure_right = 0, structure_missed = 0, structure_extra = 0;
  int hues_right = 0, hues_missed = 0, hues_extra = 0;
  int faults_right = 0, faults_missed = 0, faults_extra = 0;
  int others_right = 0, others_missed = 0;                         // quantities, names, traits

  Tally& operator+=(const Tally& other) noexcept;
};

struct Comparison {
  Tally tally;
  std::vector<std::string> mistakes;       // each in plain words

  bool right() const noexcept { return mistakes.empty(); }
};

Comparison compare(const MarkedText& expected, const Note& note);

}  // namespace racking::study
