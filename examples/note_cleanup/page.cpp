// The page around the notes of the ledger, and what they have in common.
#include "page.hpp"

#include <algorithm>

#include "options.hpp"
#include "words.hpp"

namespace note_cleanup {
namespace {

const char* const head = R"page(<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Tasting notes, read</title>
<style>
:root{--ink:#1c1a17;--rule:#6b665e;--faint:#b9b4aa}
*{box-sizing:border-box}
body{margin:0 auto;max-width:62rem;padding:1.5rem;background:#fff;color:var(--ink);font:1rem/1.5 Georgia,"Liberation Serif","DejaVu Serif",serif;overflow-wrap:anywhere}
h1{font-size:1.6rem;font-weight:normal;border-bottom:3px double var(--rule);padding-bottom:.3rem;margin:0 0 1rem}
h2{font-size:1.2rem;font-weight:normal;font-variant:small-caps;letter-spacing:.03em;border-bottom:1px solid var(--rule);margin:2rem 0 .8rem}
h3{font-size:1rem;margin:0 0 .4rem;break-after:avoid}
article{border-top:1px solid var(--rule);padding:1rem 0}
.sheet{break-inside:avoid;display:grid;grid-template-columns:minmax(0,1fr) 17rem;gap:1.5rem}
.note{white-space:pre-wrap;overflow-wrap:anywhere;margin:0 0 .8rem;line-height:1.8}
mark{background:none;color:inherit;text-decoration:underline solid 1.5px;text-underline-offset:.2em;text-decoration-skip-ink:none}
mark.dotted{text-decoration-style:dotted;text-decoration-thickness:2px}
mark.dashed{text-decoration-style:dashed;text-decoration-thickness:1px}
sup{font-size:.68em;line-height:0;padding-left:.08em}
.key{font-size:.85rem;line-height:1.35;border-left:1px solid var(--rule);margin:0;padding:0 0 0 2.4rem;overflow-wrap:anywhere}
p.key{padding-left:1rem;font-style:italic}
.tidy{margin:.4rem 0;padding-left:.9rem;border-left:3px double var(--rule);white-space:pre-line}
.tidy span{font-style:italic}
.scales{display:grid;grid-template-columns:repeat(auto-fill,minmax(19rem,1fr));gap:.7rem 2rem;margin:.9rem 0 .4rem}
.scale{break-inside:avoid}
.name{font-size:.9rem;font-variant:small-caps;letter-spacing:.03em}
.scale ol{list-style:none;display:grid;grid-template-columns:repeat(5,1fr);gap:5px;margin:.1rem 0 0;padding:0;font-size:.72rem;line-height:1.15;text-align:center}
.scale li b,.scale li svg{display:block;width:100%;height:.95rem;border:1px solid var(--ink);margin-bottom:.15rem}
.scale .in{font-weight:bold}
.silent{font-size:.85rem;margin:.3rem 0;font-style:italic}
dl{margin:.6rem 0 0;font-size:.92rem}
dl div{display:grid;grid-template-columns:9rem 1fr}
dt{font-variant:small-caps;letter-spacing:.03em}
a{color:inherit}
dd{margin:0;overflow-wrap:anywhere}
table{border-collapse:collapse;width:100%;font-size:.92rem}
th{font-weight:normal;text-align:left;padding:.15rem .6rem .15rem 0;white-space:nowrap}
td{padding:.15rem .4rem}
td.bar{width:70%}
td.bar svg{display:block;height:.9rem;border:1px solid var(--ink)}
.spread td{text-align:center;font-size:.78rem;line-height:1.2;vertical-align:bottom;width:16%}
.spread svg{display:block;width:100%;height:2.2rem;border:1px solid var(--ink)}
.number{text-align:right}
caption{text-align:left;font-style:italic;font-size:.9rem;padding-bottom:.3rem}
footer{border-top:3px double var(--rule);margin-top:2rem;padding-top:.6rem;font-size:.85rem}
.defs{position:absolute;width:0;height:0}
@media (max-width:44rem){body{padding:.8rem}.spread{table-layout:fixed}.spread th{white-space:normal;padding-right:.2rem}.spread td{padding:.15rem;font-size:.68rem;overflow-wrap:anywhere}.sheet{grid-template-columns:1fr}.scales{grid-template-columns:1fr}.scale ol{font-size:.66rem}dl div{grid-template-columns:1fr}}
@media print{body{padding:0;max-width:none;font-size:10pt}a{text-decoration:none}.sheet{grid-template-columns:minmax(0,1fr) 13rem}}
</style>
</head>
<body>
<svg class="defs" aria-hidden="true" focusable="false"><defs>
<pattern id="hatch" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M1 0V5" stroke="#1c1a17" stroke-width="1.6"/></pattern>
<rect id="h" width="100%" height="100%" fill="url(#hatch)"/>
</defs></svg>
)page";

std::string escaped(std::string_view text) {
  std::string out;
  append_escaped(out, text);
  return out;
}

std::string percent(std::size_t part, std::size_t whole) {
  if (whole == 0) return "0";
  return std::to_string(part * 1000 / whole / 10) + "." + std::to_string(part * 1000 / whole % 10) +
         "%";
}

std::string families_table(const Tally& tally, const racking::Lexicon& lexicon) {
  const auto families = families_by_count(tally, lexicon);
  if (families.empty()) return {};
  std::string out =
      "<h2>Families</h2>\n<table><caption>Notes in which a family is found</caption>\n";
  for (const auto& [family, count] : families) {
    out += "<tr><th scope=\"row\">" + escaped(family.label()) + "</th><td class=\"number\">" +
           std::to_string(count) + "</td><td class=\"bar\" aria-hidden=\"true\"><svg width=\"" +
           percent(count, families.front().second) + "\"><use href=\"#h\"/></svg></td></tr>\n";
  }
  return out + "</table>\n";
}

std::string spread_table(const Tally& tally) {
  std::string rows;
  for (std::size_t at = 0; at < all_dimensions.size(); ++at) {
    if (tally.stated[at] == 0) continue;
    rows += "<tr><th scope=\"row\">" + std::string(name_of(all_dimensions[at])) + "<br><small>" +
            std::to_string(tally.stated[at]) + (tally.stated[at] == 1 ? " note" : " notes");
    if (tally.conflicts[at] > 0)
      rows += ", " + std::to_string(tally.conflicts[at]) + " in conflict";
    rows += "</small></th>";
    for (int step = 1; step <= 5; ++step) {
      const std::size_t count = tally.steps[at][static_cast<std::size_t>(step - 1)];
      // The fill grows from the floor of the cell.
      const std::size_t height = count * 100 / tally.stated[at];
      rows += "<td><svg aria-hidden=\"true\"><rect y=\"" + std::to_string(100 - height) +
              "%\" width=\"100%\" height=\"" + std::to_string(height) +
              "%\" fill=\"url(#hatch)\"/></svg>" +
              escaped(racking::step_label(all_dimensions[at], step)) + "<br>" +
              std::to_string(count) + "</td>";
    }
    rows += "</tr>\n";
  }
  if (rows.empty()) return {};
  return "<h2>Structure</h2>\n<table class=\"spread\"><caption>Notes whose range covers a step; a "
         "note that "
         "speaks loosely covers several</caption>\n" +
         rows + "</table>\n";
}

std::string conditions_list(const Tally& tally) {
  std::string out = "<h2>Condition</h2>\n";
  if (tally.suspect_count == 0)
    out += "<p>No note speaks of a bottle to look at again.</p>\n";
  else {
    out += "<p>To look at again: " + std::to_string(tally.suspect_count) +
           (tally.suspect_count == 1 ? " note.</p>\n<ul>\n" : " notes.</p>\n<ul>\n");
    for (const auto& suspect : tally.suspects) {
      const std::string id = escaped(suspect.id);
      out += "<li>" +
             (suspect.shown == 0
                  ? id
                  : "<a href=\"#n" + std::to_string(suspect.shown) + "\">" + id + "</a>") +
             " — " + escaped(suspect.condition) + "</li>\n";
    }
    out += "</ul>\n";
    if (tally.suspects.size() < tally.suspect_count) {
      out += "<p>Listed are the first " + std::to_string(tally.suspects.size()) + ".</p>\n";
    }
  }
  const std::string stages = maturity_counts(tally);
  if (!stages.empty()) out += "<p>Maturity, in notes: " + escaped(stages) + ".</p>\n";
  return out;
}

std::string opening(const Tally& tally, std::size_t shown, const std::vector<std::string>& inputs) {
  std::string out = "<header>\n<h1>Tasting notes, read</h1>\n";
  for (const auto& input : inputs) out += "<p>" + escaped(input) + "</p>\n";
  out += "<p>" + std::to_string(tally.notes) + (tally.notes == 1 ? " note" : " notes");
  if (tally.unread > 0) {
    out += "; " + std::to_string(tally.unread) + (tally.unread == 1 ? " row" : " rows") +
           " could not be read";
  }
  out += ".";
  if (shown < tally.notes) {
    out += " <strong>This page shows the first " + std::to_string(shown) +
           "; the counts are of all of them.</strong>";
  }
  return out + "</p>\n</header>\n";
}

}  // namespace

void write_page(Output& output, const Tally& tally, const racking::Lexicon& lexicon,
                const std::vector<std::string>& inputs, const std::vector<std::string>& entries) {
  output.write(head);
  output.write(opening(tally, entries.size(), inputs));
  output.write("<main>\n<section aria-label=\"What the notes have in common\">\n");
  output.write(conditions_list(tally));
  output.write(families_table(tally, lexicon));
  output.write(spread_table(tally));
  output.write(
      "</section>\n<section aria-label=\"Notes\">\n<h2>Notes</h2>\n"
      "<p>Underlined words were read; the number leads to the key. "
      "<mark>Solid</mark>: found in the wine. <mark class=\"dotted\">Dotted</mark>: doubted, or "
      "looked "
      "for and not found. <mark class=\"dashed\">Dashed</mark>: said of something else, such as a "
      "dish, "
      "the making or another time.</p>\n");
  for (const auto& entry : entries) output.write(entry);
  output.write("</section>\n</main>\n<footer>\n<p>" + escaped(caution) +
               "</p>\n<p>Read with Racking " + std::string(racking::version()) + ", lexicon " +
               escaped(lexicon.name()) + " " + escaped(lexicon.version()) + " (" +
               std::string(lexicon.digest()) + ").</p>\n</footer>\n</body>\n</html>\n");
}

}  // namespace note_cleanup
