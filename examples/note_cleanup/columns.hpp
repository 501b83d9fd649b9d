// Which column or key holds the notes, and which their ids.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace note_cleanup {

// How surely a heading names the notes or the ids: 0 not at all; lower is surer from 1 on.
int note_heading_rank(std::string_view heading);
int id_heading_rank(std::string_view heading);
// Whether a heading is one that tables of wines use: date, score, vintage, …
bool is_common_heading(std::string_view heading);

// The surest of `headings`; nothing if none will do.
std::optional<std::size_t> find_note_heading(const std::vector<std::string>& headings);
std::optional<std::size_t> find_id_heading(const std::vector<std::string>& headings);

// Where `name` stands among `headings`, exactly or else whatever its case and spaces; or the
// column it counts ("3"), if `counted`.
std::optional<std::size_t> find_named(const std::vector<std::string>& headings,
                                      std::string_view name, bool counted);

}  // namespace note_cleanup
