#include "markup.hpp"

#include <gumbo.h>

#include <algorithm>
#include <array>
#include <optional>
#include <unordered_map>

namespace note_cleanup {
namespace {

constexpr std::size_t longest_tag = 4096;
constexpr std::size_t longest_entity = 40;  // HTML's longest name has 31 letters
constexpr int most_passes = 3;              // text escaped, and escaped again

bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }
bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_space(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f'; }

std::string lower(std::string_view text) {
  std::string lowered(text);
  for (char& c : lowered) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c;
  return lowered;
}

// What gumbo makes of an entity, alone in a document; the entity itself if it knows none.
std::string ask_gumbo(const std::string& entity) {
  GumboOutput* output =
      gumbo_parse_with_options(&kGumboDefaultOptions, entity.data(), entity.size());
  std::string text;
  const GumboNode* node = output->root;
  while (node != nullptr && node->type == GUMBO_NODE_ELEMENT) {  // down html, body
    const GumboVector& children = node->v.element.children;
    node = children.length > 0 ? static_cast<const GumboNode*>(children.data[children.length - 1])
                               : nullptr;
  }
  if (node != nullptr) text = node->v.text.text;
  gumbo_destroy_output(&kGumboDefaultOptions, output);
  return text;
}

// Without a semicolon only what nobody writes by chance: "&amp", "&eacute", but not "&shy".
bool resolves_without_semicolon(std::string_view name) {
  constexpr std::array<std::string_view, 5> plain{"amp", "lt", "gt", "quot", "nbsp"};
  constexpr std::array<std::string_view, 8> letters{"acute", "grave", "circ",  "uml",
                                                    "tilde", "cedil", "slash", "ring"};
  return std::find(plain.begin(), plain.end(), name) != plain.end() ||
         std::any_of(letters.begin(), letters.end(), [&](std::string_view mark) {
           return name.size() == mark.size() + 1 && name.ends_with(mark);
         });
}

struct Piece {
  std::size_t size = 0;  // of the markup
  std::string text;      // in its place
};

std::optional<Piece> entity_at(std::string_view text) {
  std::size_t end = 1;
  const bool numeric = text.size() > 2 && text[1] == '#';
  if (numeric) ++end;
  const std::size_t from = end;
  while (end < text.size() && end < longest_entity && (is_letter(text[end]) || is_digit(text[end])))
    ++end;
  const std::string_view name = text.substr(from, end - from);
  if (name.empty()) return std::nullopt;
  const bool closed = end < text.size() && text[end] == ';';
  if (!closed && (numeric || !resolves_without_semicolon(name))) return std::nullopt;
  const std::string entity = std::string(text.substr(0, end)) + ';';
  thread_local std::unordered_map<std::string, std::string> known;
  auto found = known.find(entity);
  if (found == known.end()) {
    if (known.size() > 4096) known.clear();
    const bool space = entity == "&nbsp;" || entity == "&#160;" || lower(entity) == "&#xa0;";
    found = known.emplace(entity, space ? std::string(1, ' ') : ask_gumbo(entity)).first;
  }
  // Of an unknown name gumbo gives it all back; of "&notnose;" a piece and the rest.
  if (found->second.empty() || (found->second.size() > 1 && found->second.ends_with(';')))
    return std::nullopt;
  return Piece{end + (closed ? 1U : 0U), found->second};
}

bool breaks_line(std::string_view tag) {
  constexpr std::array<std::string_view, 33> blocks{
      "br",      "p",       "li",     "div",     "tr",     "h1",         "h2",   "h3",    "h4",
      "h5",      "h6",      "ul",     "ol",      "dl",     "dt",         "dd",   "hr",    "table",
      "section", "article", "header", "footer",  "pre",    "blockquote", "main", "aside", "nav",
      "thead",   "tbody",   "tfoot",  "caption", "figure", "address"};
  return std::find(blocks.begin(), blocks.end(), tag) != blocks.end();
}

// Word processors leave tags such as <o:p> and <st1:place>.
bool is_office_tag(std::string_view tag) {
  const std::size_t colon = tag.find(':');
  if (colon == std::string_view::npos || colon == 0 || colon > 4) return false;
  return std::all_of(tag.begin(), tag.end(),
                     [](char c) { return is_letter(c) || is_digit(c) || c == ':'; });
}

bool is_bare_attribute(std::string_view name) {
  constexpr std::array<std::string_view, 9> bare{"nowrap",   "noshade",  "hidden",
                                                 "disabled", "compact",  "checked",
                                                 "selected", "reversed", "open"};
  return std::find(bare.begin(), bare.end(), name) != bare.end();
}

// From after a tag's name to after its ">"; nothing unless all between is attributes.
std::optional<std::size_t> end_of_attributes(std::string_view text, std::size_t at) {
  const auto skip_spaces = [&] {
    while (at < text.size() && is_space(text[at])) ++at;
  };
  for (;;) {
    const std::size_t before = at;
    skip_spaces();
    if (at < text.size() && text[at] == '/') ++at;
    skip_spaces();
    if (at >= text.size()) return std::nullopt;
    if (text[at] == '>') return at + 1;
    if (before == at) return std::nullopt;  // no space before an attribute
    const std::size_t name = at;
    while (at < text.size() && !is_space(text[at]) &&
           std::string_view("=/>\"'<").find(text[at]) == std::string_view::npos)
      ++at;
    if (at == name || at >= text.size()) return std::nullopt;
    if (text[at] != '=') {
      if (!is_bare_attribute(lower(text.substr(name, at - name)))) return std::nullopt;
      continue;
    }
    ++at;
    if (at < text.size() && (text[at] == '"' || text[at] == '\'')) {
      at = text.find(text[at], at + 1);
      if (at == std::string_view::npos) return std::nullopt;
      ++at;
    } else {
      while (at < text.size() && !is_space(text[at]) && text[at] != '>') ++at;
    }
  }
}

// <script> and <style>: what they hold is no text.
std::size_t end_of_raw(std::string_view text, std::size_t at, const std::string& tag) {
  const std::string closing = "</" + tag;
  const std::string rest = lower(text.substr(at));
  const std::size_t close = rest.find(closing);
  if (close == std::string::npos) return at;
  const std::size_t end = rest.find('>', close);
  return end == std::string::npos ? at : at + end + 1;
}

std::optional<Piece> comment_at(std::string_view text) {
  const auto until = [&](std::string_view close) -> std::optional<Piece> {
    const std::size_t end = text.find(close);
    if (end == std::string_view::npos) return std::nullopt;
    return Piece{end + close.size(), {}};
  };
  if (text.starts_with("<!--")) return until("-->");
  if (text.starts_with("<![CDATA[")) {
    const std::size_t end = text.find("]]>");
    if (end == std::string_view::npos) return std::nullopt;
    return Piece{end + 3, std::string(text.substr(9, end - 9))};
  }
  if (text.starts_with("<![") || lower(text.substr(0, 9)) == "<!doctype" ||
      text.starts_with("<?xml"))
    return until(">");
  return std::nullopt;
}

std::optional<Piece> tag_at(std::string_view text) {
  if (text.size() < 3) return std::nullopt;
  if (text[1] == '!' || text[1] == '?') return comment_at(text);
  std::size_t at = text[1] == '/' ? 2 : 1;
  const std::size_t from = at;
  if (!is_letter(text[at])) return std::nullopt;
  while (at < text.size() && at < 32 &&
         (is_letter(text[at]) || is_digit(text[at]) || text[at] == ':'))
    ++at;
  const std::string tag = lower(text.substr(from, at - from));
  if (gumbo_tag_enum(tag.c_str()) == GUMBO_TAG_UNKNOWN && !is_office_tag(tag)) return std::nullopt;
  const auto end = end_of_attributes(text.substr(0, longest_tag), at);
  if (!end) return std::nullopt;
  Piece piece{*end, {}};
  if (from == 1 && (tag == "script" || tag == "style")) piece.size = end_of_raw(text, *end, tag);
  if (breaks_line(tag))
    piece.text.push_back('\n');
  else if (tag == "td" || tag == "th")
    piece.text.push_back(' ');
  return piece;
}

void append_break(std::string& out, bool hard) {
  // Two blocks that meet break the line once; <br><br> leaves a line empty.
  std::size_t end = out.size();
  while (end > 0 && (out[end - 1] == ' ' || out[end - 1] == '\t')) --end;
  out.resize(end);
  if (hard || (!out.empty() && out.back() != '\n')) out += '\n';
}

// The line end that often follows a breaking tag says the same break again.
std::size_t after_break(std::string_view text, std::size_t at) {
  const auto skip_spaces = [&] {
    while (at < text.size() && (text[at] == ' ' || text[at] == '\t')) ++at;
  };
  skip_spaces();
  if (at < text.size() && text[at] == '\r') ++at;
  if (at < text.size() && text[at] == '\n') ++at;
  skip_spaces();
  return at;
}

std::string one_pass(std::string_view text, MarkupCount& count) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t next = std::min(text.find_first_of("&<", at), text.size());
    out += text.substr(at, next - at);
    at = next;
    if (at == text.size()) break;
    const std::string_view rest = text.substr(at);
    const auto piece = text[at] == '&' ? entity_at(rest) : tag_at(rest);
    if (!piece) {
      out += text[at++];
      continue;
    }
    ++(text[at] == '&' ? count.entities : count.tags);
    const bool breaks = text[at] == '<' && piece->text == "\n";
    if (breaks)
      append_break(out, lower(rest.substr(1, 2)) == "br");
    else
      out += piece->text;
    at += piece->size;
    if (breaks) at = after_break(text, at);
  }
  return out;
}

void trim(std::string& text) {
  const std::size_t from = std::min(text.find_first_not_of(" \t\r\n"), text.size());
  text.erase(0, from);
  while (!text.empty() && is_space(text.back())) text.pop_back();
}

}  // namespace

std::string resolve_markup(std::string text, MarkupCount& count) {
  for (int pass = 0; pass < most_passes; ++pass) {
    if (text.find_first_of("&<") == std::string::npos) break;
    const std::size_t before = count.entities + count.tags;
    std::string resolved = one_pass(text, count);
    if (count.entities + count.tags == before) break;
    text = std::move(resolved);
  }
  if (count.tags > 0) trim(text);
  return text;
}

}  // namespace note_cleanup
