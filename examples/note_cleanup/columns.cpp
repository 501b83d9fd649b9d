#include "columns.hpp"

#include <algorithm>
#include <array>

namespace note_cleanup {
namespace {

using Names = std::string_view;

constexpr std::array<Names, 20> note_names{
    "tastingnote", "tastingnotes", "note",     "notes",    "text",       "description", "review",
    "reviewtext",  "comment",      "comments", "tasting",  "impression", "impressions", "remark",
    "remarks",     "body",         "content",  "notetext", "winenote",   "winenotes"};
constexpr std::array<Names, 18> id_names{
    "id",    "noteid", "rowid", "recordid",  "uuid", "key", "entry",  "entryid", "code",
    "rowno", "row",    "ref",   "reference", "no",   "nr",  "number", "lot",     "sku"};
constexpr std::array<Names, 29> common_names{
    "date",   "wine",  "name",   "producer", "vintage", "year",    "taster", "author",
    "judge",  "buyer", "score",  "points",   "rating",  "medal",   "class",  "colour",
    "color",  "style", "region", "country",  "grape",   "variety", "price",  "listprice",
    "cellar", "place", "title",  "event",    "category"};

// Letters and digits in lower case; letters outside ASCII as they stand.
std::string plain(std::string_view heading) {
  std::string plain;
  for (const char c : heading) {
    if (c >= 'A' && c <= 'Z')
      plain += static_cast<char>(c - 'A' + 'a');
    else if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || (c & 0x80) != 0)
      plain += c;
  }
  return plain;
}

template <std::size_t size>
int rank_in(const std::array<Names, size>& names, std::string_view name) {
  const auto at = std::find(names.begin(), names.end(), name);
  return at == names.end() ? 0 : static_cast<int>(at - names.begin()) + 1;
}

std::optional<std::size_t> surest(const std::vector<std::string>& headings,
                                  int (*rank)(std::string_view)) {
  std::optional<std::size_t> best;
  int best_rank = 0;
  for (std::size_t at = 0; at < headings.size(); ++at) {
    const int here = rank(headings[at]);
    if (here != 0 && (!best || here < best_rank)) {
      best = at;
      best_rank = here;
    }
  }
  return best;
}

}  // namespace

int note_heading_rank(std::string_view heading) {
  const std::string name = plain(heading);
  if (const int rank = rank_in(note_names, name)) return rank;
  // "Notes (blind)", "palate comments"; but never "note id" or "number of notes", nor a note
  // that begins "Notes of plum".
  const auto words = std::count(heading.begin(), heading.end(), ' ') + 1;
  if (heading.size() > 40 || heading.find_first_of(".,;:!?") != std::string_view::npos ||
      words > 4 || id_heading_rank(heading) != 0 || name.ends_with("id") ||
      name.ends_with("count") || name.ends_with("date") || name.starts_with("numberof") ||
      name.starts_with("notesof") || name.starts_with("noteof")) {
    return 0;
  }
  if (name.find("tastingnote") != std::string::npos) return 100;
  constexpr std::array<Names, 5> parts{"note", "description", "review", "comment", "tasting"};
  for (std::size_t at = 0; at < parts.size() && words <= 2; ++at) {
    if (name.find(parts[at]) != std::string::npos) return 101 + static_cast<int>(at);
  }
  return 0;
}

int id_heading_rank(std::string_view heading) {
  if (heading == "#" || heading == "№") return 1;
  return rank_in(id_names, plain(heading));
}

bool is_common_heading(std::string_view heading) {
  return rank_in(common_names, plain(heading)) != 0;
}

std::optional<std::size_t> find_note_heading(const std::vector<std::string>& headings) {
  return surest(headings, note_heading_rank);
}

std::optional<std::size_t> find_id_heading(const std::vector<std::string>& headings) {
  return surest(headings, id_heading_rank);
}

std::optional<std::size_t> find_named(const std::vector<std::string>& headings,
                                      std::string_view name, bool counted) {
  const auto position = [&](auto at) -> std::optional<std::size_t> {
    if (at == headings.end()) return std::nullopt;
    return static_cast<std::size_t>(at - headings.begin());
  };
  if (const auto at = position(std::find(headings.begin(), headings.end(), name))) return at;
  const std::string wanted = plain(name);
  if (wanted.empty()) return std::nullopt;
  if (const auto at =
          position(std::find_if(headings.begin(), headings.end(), [&](const std::string& heading) {
            return plain(heading) == wanted;
          }))) {
    return at;
  }
  const bool digits = name.find_first_not_of("0123456789") == std::string_view::npos;
  if (!counted || !digits || name.size() > 4) return std::nullopt;
  const auto number = static_cast<std::size_t>(std::stoi(std::string(name)));
  if (number < 1 || number > headings.size()) return std::nullopt;
  return number - 1;
}

}  // namespace note_cleanup
