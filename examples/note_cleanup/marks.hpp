// A note's readings as marks on its text, numbered for the key in the margin.
#pragma once

#include <string>
#include <vector>

#include <racking/racking.hpp>

namespace note_cleanup {

enum class Line { solid, dotted, dashed };  // found; doubted or denied; said of something else

struct Mark {
  std::vector<racking::Span> pieces;  // in order, apart from each other
  Line line = Line::solid;
  std::vector<std::string> meanings;  // all that these words are read as
};

// In the order of the text; readings of the same words share a mark.
std::vector<Mark> marks_of(const racking::Note&);

}  // namespace note_cleanup
