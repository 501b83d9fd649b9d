#include "table.hpp"

#include "csv_parser.hpp"
#include "words.hpp"

namespace note_cleanup {

std::string table_heading() {
  std::string heading = "id,families,aromas";
  for (const auto dimension : all_dimensions) {
    const std::string name(name_of(dimension));
    heading += "," + name + "_low," + name + "_high," + name + "_label";
  }
  return heading + ",colour,condition,maturity,alcohol,tidy\n";
}

void append_table_row(std::string& out, const racking::Note& note, std::string_view id) {
  const auto cell = [&out](std::string_view text) {
    out += ',';
    append_csv(out, text);
  };
  append_csv(out, id);
  std::vector<std::string> families;
  for (const auto family : families_found(note)) families.emplace_back(family.id());
  cell(join(families, "; "));
  cell(join(aromas_found(note), "; "));
  for (const auto dimension : all_dimensions) {
    const auto& range = note.structure()[dimension].range;
    cell(range ? std::to_string(range->low) : "");
    cell(range ? std::to_string(range->high) : "");
    cell(range ? racking::Note::label(dimension, *range) : "");
  }
  cell(sight_words(note));
  cell(condition_words(note));
  cell(maturity_words(note));
  cell(alcohol_words(note));
  cell(note.tidy());
  out += '\n';
}

}  // namespace note_cleanup
