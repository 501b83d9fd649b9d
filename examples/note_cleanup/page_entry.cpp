// One note of the ledger.
#include <unicode/utf8.h>

#include <algorithm>
#include <array>
#include <cstdint>

#include "marks.hpp"
#include "page.hpp"
#include "words.hpp"

namespace note_cleanup {

using racking::Note;
using racking::Span;

void append_escaped(std::string& out, std::string_view text) {
  const auto* data = reinterpret_cast<const std::uint8_t*>(text.data());
  const auto size = static_cast<std::int32_t>(text.size());
  for (std::int32_t at = 0; at < size;) {
    const std::int32_t before = at;
    UChar32 c = 0;
    U8_NEXT(data, at, size, c);
    const bool control =
        (c < 0x20 && c != '\n' && c != '\t' && c != '\r') || (c >= 0x7F && c <= 0x9F);
    if (c < 0 || control || (c & 0xFFFE) == 0xFFFE)
      out += "\xEF\xBF\xBD";
    else if (c == '&')
      out += "&amp;";
    else if (c == '<')
      out += "&lt;";
    else if (c == '>')
      out += "&gt;";
    else if (c == '"')
      out += "&quot;";
    else if (c == '\'')
      out += "&#39;";
    else
      out.append(text, static_cast<std::size_t>(before), static_cast<std::size_t>(at - before));
  }
}

namespace {

// The text with its marks: cut wherever a mark begins or ends, underlined where any mark lies,
// numbered after the last piece of each.
void append_marked(std::string& out, const Note& note, const std::vector<Mark>& marks) {
  const std::string& text = note.text();
  std::vector<std::uint32_t> cuts{0, static_cast<std::uint32_t>(text.size())};
  for (const auto& mark : marks) {
    for (const Span piece : mark.pieces) {
      cuts.push_back(piece.begin);
      cuts.push_back(piece.end);
    }
  }
  std::sort(cuts.begin(), cuts.end());
  cuts.erase(std::unique(cuts.begin(), cuts.end()), cuts.end());
  std::vector<std::size_t> open;  // marks that may still cover something
  std::size_t next = 0;
  for (std::size_t at = 0; at + 1 < cuts.size(); ++at) {
    const Span part{cuts[at], cuts[at + 1]};
    while (next < marks.size() && marks[next].pieces.front().begin <= part.begin)
      open.push_back(next++);
    const Mark* shown = nullptr;
    std::string numbers;
    std::erase_if(open, [&](std::size_t which) {
      const Mark& mark = marks[which];
      const bool covers = std::any_of(mark.pieces.begin(), mark.pieces.end(),
                                      [&](Span piece) { return piece.contains(part); });
      if (covers && (shown == nullptr || mark.line < shown->line)) shown = &mark;
      const bool ends = mark.pieces.back().end <= part.end;
      if (ends && !numbers.empty()) numbers += ',';
      if (ends) numbers += std::to_string(which + 1);
      return ends;
    });
    constexpr std::array<const char*, 3> tags{"<mark>", "<mark class=\"dotted\">",
                                              "<mark class=\"dashed\">"};
    if (shown != nullptr) out += tags.at(static_cast<std::size_t>(shown->line));
    append_escaped(out, std::string_view(text).substr(part.begin, part.size()));
    if (shown != nullptr) out += "</mark>";
    if (!numbers.empty()) out += "<sup>" + numbers + "</sup>";
  }
}

void append_key(std::string& out, const std::vector<Mark>& marks) {
  if (marks.empty()) {
    out += "<p class=\"key\">No word of this note is in the lexicon.</p>\n";
    return;
  }
  out += "<ol class=\"key\" aria-label=\"Key to the numbers\">";
  for (const auto& mark : marks) {
    out += "<li>";
    append_escaped(out, join(mark.meanings, "; "));
    out += "</li>";
  }
  out += "</ol>\n";
}

// Five outlined cells, those in the range hatched, the house's words beneath.
void append_scale(std::string& out, racking::Dimension dimension, const racking::Level& level) {
  const std::string name(name_of(dimension));
  const std::string label = level.range ? Note::label(dimension, *level.range) : "no level stated";
  out += "<div class=\"scale\"><span class=\"name\">" + name +
         (level.conflict ? " <i>(in conflict)</i>" : "") + "</span><ol role=\"img\" aria-label=\"";
  append_escaped(out, name + ": " + label);
  if (level.range) out += ", step " + std::to_string(level.range->low);
  if (level.range && level.range->width() > 1) out += " to " + std::to_string(level.range->high);
  out += level.range ? " of 5" : "";
  out += level.conflict ? ", the note contradicts itself\">" : "\">";
  for (int step = 1; step <= 5; ++step) {
    const bool in = level.range && level.range->low <= step && step <= level.range->high;
    out += in ? "<li class=\"in\"><svg><use href=\"#h\"/></svg>" : "<li><b></b>";
    append_escaped(out, racking::step_label(dimension, step));
    out += "</li>";
  }
  out += "</ol></div>\n";
}

void append_structure(std::string& out, const Note& note) {
  std::string scales;
  std::vector<std::string> silent;
  for (const auto dimension : all_dimensions) {
    const racking::Level& level = note.structure()[dimension];
    if (level.range)
      append_scale(scales, dimension, level);
    else
      silent.emplace_back(name_of(dimension));
  }
  if (!scales.empty()) out += "<div class=\"scales\">\n" + scales + "</div>\n";
  if (!silent.empty())
    out += "<p class=\"silent\">No level stated: " + join(silent, ", ") + ".</p>\n";
}

void append_line(std::string& out, const char* term, const std::string& text) {
  if (text.empty()) return;
  out += std::string("<div><dt>") + term + "</dt><dd>";
  append_escaped(out, text);
  out += "</dd></div>\n";
}

std::string condition_line(const Note& note) {
  std::string line = condition_words(note);
  std::vector<std::string_view> said;
  for (const auto& fault : note.condition().faults) {
    const bool again = std::find(said.begin(), said.end(), fault.caution) != said.end();
    if (fault.stance == racking::Stance::denied || fault.caution.empty() || again) continue;
    line += line.ends_with('.') ? " " : ". ";
    line += fault.caution;
    said.push_back(fault.caution);
  }
  return line;
}

std::string maturity_line(const Note& note) {
  std::string line = maturity_words(note);
  if (line.empty()) line = "not stated";
  std::vector<std::string> because;
  for (const auto& evidence : note.maturity().evidence) {
    because.push_back(std::string(evidence.because) + " (" +
                      (evidence.points_to == racking::PointsTo::younger ? "younger" : "older") +
                      ")");
  }
  if (!because.empty()) line += ": " + join(because, "; ");
  return line;
}

std::string quoted(std::string_view text) {
  std::string quoted("“");
  quoted += text;
  return quoted += "”";
}

void append_lines(std::string& out, const Note& note) {
  std::vector<std::string> quantities;
  for (const auto& quantity : note.quantities()) {
    quantities.push_back(std::string(name_of(quantity.kind)) + " " +
                         quantity_words(quantity, true));
  }
  std::vector<std::string> remarks;
  for (const auto& remark : note.remarks()) remarks.push_back(remark.text);
  std::vector<std::string> unmapped;
  for (const Span span : note.unmapped()) unmapped.push_back(quoted(note.text(span)));
  out += "<dl>\n";
  append_line(out, "Look", sight_words(note));
  append_line(out, "Measures", join(quantities, "; "));
  append_line(out, "Condition", condition_line(note));
  append_line(out, "Maturity", maturity_line(note));
  append_line(out, "Worth a thought", join(remarks, " "));
  append_line(out, "Kept as written", join(unmapped, ", "));
  out += "</dl>\n";
}

}  // namespace

std::string page_entry(const Note& note, std::string_view id, std::size_t number) {
  const std::vector<Mark> marks = marks_of(note);
  const std::string anchor = std::string("n").append(std::to_string(number));
  std::string out = "<article aria-labelledby=\"" + anchor + "\">\n<h3 id=\"" + anchor + "\">";
  append_escaped(out, id);
  out += "</h3>\n<div class=\"sheet\">\n<div>\n<p class=\"note\" dir=\"auto\"";
  if (note.language() == "en") out += " lang=\"en\"";
  out += ">";
  append_marked(out, note, marks);
  out += "</p>\n";
  const std::string tidy = note.tidy();
  if (!tidy.empty()) {
    out += "<p class=\"tidy\"><span>Cleaned:</span> ";
    append_escaped(out, tidy);
    out += "</p>\n";
  }
  out += "</div>\n";
  append_key(out, marks);
  out += "</div>\n";
  append_structure(out, note);
  append_lines(out, note);
  return out + "</article>\n";
}

}  // namespace note_cleanup
