#include "racking/lexicon.hpp"

#include <algorithm>
#include <tuple>
#include <utility>

#include "lexicon/build.hpp"
#include "lexicon/compiled.hpp"
#include "lexicon/load.hpp"
#include "lexicon/source.hpp"
#include "racking/hierarchy.hpp"
#include "text/tokens.hpp"

namespace racking {
inline namespace v1 {
namespace {

using lexicon::CompiledLexicon;

const lexicon::DescriptorRecord& record_of(const CompiledLexicon& lexicon, std::uint32_t index) {
  return lexicon.descriptors[index];
}

std::vector<Descriptor> handles(const CompiledLexicon& lexicon, lexicon::Range range) {
  std::vector<Descriptor> out;
  for (const std::uint32_t index : lexicon.range(range)) out.emplace_back(&lexicon, index);
  return out;
}

void throw_problems(std::vector<Problem>& problems) {
  if (problems.empty()) return;
  std::stable_sort(problems.begin(), problems.end(), [](const Problem& a, const Problem& b) {
    return std::tie(a.source, a.line, a.column) < std::tie(b.source, b.line, b.column);
  });
  throw Error(ErrorCode::lexicon_invalid, std::move(problems));
}

// How many forms may mean one of these kinds; the same without its accents is no other form.
std::size_t forms_of(const CompiledLexicon& lexicon, std::uint32_t kinds) {
  std::size_t count = 0;
  for (lexicon::NodeId node = 1; node < lexicon.nodes.size(); ++node) {
    const auto senses = lexicon.senses_of(node);
    count += std::any_of(senses.begin(), senses.end(), [&](const lexicon::Sense& sense) {
      return (kinds & kind_bit(sense.kind)) != 0 && (sense.flags & lexicon::Sense::stripped) == 0;
    });
  }
  return count;
}

// The node of the whole form; each word as it is written, else without its accents.
lexicon::NodeId find_node(const CompiledLexicon& lexicon, const text::TokenizedText& form,
                          std::size_t at, lexicon::NodeId from) {
  if (at == form.tokens.size()) return from;
  const text::Token& token = form.tokens[at];
  if (token.is(text::Token::accented))
    if (const auto next = lexicon.step(from, lexicon.word(form.exact_key(token))))
      if (const auto end = find_node(lexicon, form, at + 1, next)) return end;
  const auto next = lexicon.step(from, lexicon.word(form.key(token)));
  return next == 0 ? 0 : find_node(lexicon, form, at + 1, next);
}

}  // namespace

std::string_view Descriptor::id() const noexcept {
  return lexicon_ == nullptr ? std::string_view()
                             : lexicon_->string(record_of(*lexicon_, index_).id);
}
std::string_view Descriptor::label() const noexcept {
  return lexicon_ == nullptr ? std::string_view()
                             : lexicon_->string(record_of(*lexicon_, index_).label);
}
std::string_view Descriptor::gloss() const noexcept {
  return lexicon_ == nullptr ? std::string_view()
                             : lexicon_->string(record_of(*lexicon_, index_).gloss);
}

Descriptor Descriptor::family() const noexcept {
  if (lexicon_ == nullptr) return {};
  const std::uint32_t family = record_of(*lexicon_, index_).family;
  return family == lexicon::none ? Descriptor() : Descriptor(lexicon_, family);
}

bool Descriptor::is_family() const noexcept {
  return lexicon_ != nullptr && record_of(*lexicon_, index_).is_family != 0;
}

std::vector<Descriptor> Descriptor::path() const {
  std::vector<Descriptor> out;
  if (lexicon_ == nullptr) return out;
  for (std::uint32_t at = index_; at != 0;
       at = lexicon_->range(record_of(*lexicon_, at).parents).front())
    out.emplace_back(lexicon_, at);
  std::reverse(out.begin(), out.end());
  return out;
}

std::vector<Descriptor> Descriptor::parents() const {
  if (lexicon_ == nullptr) return {};
  return handles(*lexicon_, record_of(*lexicon_, index_).parents);
}
std::vector<Descriptor> Descriptor::children() const {
  if (lexicon_ == nullptr) return {};
  return handles(*lexicon_, record_of(*lexicon_, index_).children);
}

bool Descriptor::has_origin(Origin origin) const noexcept {
  return lexicon_ != nullptr &&
         (record_of(*lexicon_, index_).origin & static_cast<std::uint8_t>(origin)) != 0;
}
State Descriptor::state() const noexcept {
  return lexicon_ == nullptr ? State::none
                             : static_cast<State>(record_of(*lexicon_, index_).state);
}

std::vector<std::string> Descriptor::compounds() const {
  std::vector<std::string> out;
  if (lexicon_ == nullptr) return out;
  for (const std::uint32_t index : lexicon_->range(record_of(*lexicon_, index_).compounds)) {
    const lexicon::CompoundRecord& compound = lexicon_->compounds[index];
    std::string text(lexicon_->string(compound.label));
    if (compound.source.length != 0)
      ((text += " (") += lexicon_->string(compound.source)) += ')';
    out.push_back(std::move(text));
  }
  return out;
}

unsigned Descriptor::depth() const noexcept {
  return lexicon_ == nullptr ? 0 : record_of(*lexicon_, index_).depth;
}

Overlay::Overlay(std::shared_ptr<const lexicon::Source> source) noexcept
    : source_(std::move(source)) {}
Overlay::Overlay(Overlay&&) noexcept = default;
Overlay& Overlay::operator=(Overlay&&) noexcept = default;
Overlay::Overlay(const Overlay&) = default;
Overlay& Overlay::operator=(const Overlay&) = default;
Overlay::~Overlay() = default;

Overlay Overlay::load(const std::string& folder) {
  std::vector<Problem> problems;
  auto source = std::make_shared<const lexicon::Source>(lexicon::load_folder(folder, problems));
  throw_problems(problems);
  return Overlay(std::move(source));
}

Overlay Overlay::parse(std::string_view toml, const std::string& source) {
  std::vector<Problem> problems;
  auto out = std::make_shared<lexicon::Source>();
  lexicon::load_text(toml, source, *out, problems);
  throw_problems(problems);
  return Overlay(std::move(out));
}

Lexicon::Lexicon(std::shared_ptr<const lexicon::CompiledLexicon> compiled) noexcept
    : compiled_(std::move(compiled)) {}

Lexicon Lexicon::load(const std::string& folder) {
  std::vector<Problem> problems;
  const lexicon::Source source = lexicon::load_folder(folder, problems);
  std::string blob = lexicon::build(source, nullptr, problems);
  throw_problems(problems);
  return Lexicon(CompiledLexicon::from_blob(std::move(blob)));
}

Lexicon Lexicon::from_blob(std::string_view blob) {
  return Lexicon(CompiledLexicon::from_blob(std::string(blob)));
}

std::string Lexicon::to_blob() const { return std::string(compiled_->blob); }

Lexicon Lexicon::overlaid(const Overlay& overlay) const {
  if (overlay.source_ == nullptr) throw Error(ErrorCode::bad_argument, "the overlay was moved from");
  std::vector<Problem> problems;
  std::string blob = lexicon::build(*overlay.source_, compiled_.get(), problems);
  throw_problems(problems);
  return Lexicon(CompiledLexicon::from_blob(std::move(blob)));
}

std::string_view Lexicon::name() const noexcept { return compiled_->name; }
std::string_view Lexicon::version() const noexcept { return compiled_->version; }
std::string_view Lexicon::digest() const noexcept { return compiled_->digest; }

Descriptor Lexicon::root() const noexcept { return Descriptor(compiled_.get(), 0); }

std::vector<Descriptor> Lexicon::families() const {
  std::vector<Descriptor> out;
  for (std::uint32_t i = 0; i < compiled_->descriptors.size(); ++i)
    if (compiled_->descriptors[i].is_family != 0) out.emplace_back(compiled_.get(), i);
  return out;
}

std::size_t Lexicon::descriptor_count() const noexcept { return compiled_->descriptors.size(); }

Descriptor Lexicon::descriptor_at(std::size_t index) const noexcept {
  if (index >= compiled_->descriptors.size()) return {};
  return Descriptor(compiled_.get(), static_cast<std::uint32_t>(index));
}

std::optional<Descriptor> Lexicon::find(std::string_view id) const {
  for (std::uint32_t i = 0; i < compiled_->descriptors.size(); ++i)
    if (compiled_->string(compiled_->descriptors[i].id) == id)
      return Descriptor(compiled_.get(), i);
  return std::nullopt;
}

std::optional<Descriptor> Lexicon::find_form(std::string_view form) const {
  text::TokenizedText words;
  text::tokenize(form, words);
  const lexicon::NodeId node = find_node(*compiled_, words, 0, 0);
  for (const lexicon::Sense& sense : compiled_->senses_of(node))
    if (sense.kind == lexicon::SenseKind::descriptor)
      return Descriptor(compiled_.get(), sense.index);
  return std::nullopt;
}

std::size_t Lexicon::phrase_count() const noexcept {
  return compiled_->phrases.size() + compiled_->levels.size();
}

std::size_t Lexicon::phrase_form_count() const noexcept {
  return forms_of(*compiled_, kind_bit(lexicon::SenseKind::phrase) | kind_bit(lexicon::SenseKind::level));
}

std::size_t Lexicon::descriptor_form_count() const noexcept {
  return forms_of(*compiled_, kind_bit(lexicon::SenseKind::descriptor));
}

double Lexicon::similarity(Descriptor a, Descriptor b) const {
  const auto here = [&](Descriptor one) -> std::optional<Descriptor> {
    if (one == Descriptor(compiled_.get(), one.index())) return one;
    return find(one.id());   // a handle of another lexicon: its id counts
  };
  const auto own_a = here(a), own_b = here(b);
  if (!own_a || !own_b) return 0.0;
  return wu_palmer(own_a->index(), own_b->index(), [&](std::uint32_t index) {
    return compiled_->range(compiled_->descriptors[index].parents);
  });
}

}  // namespace v1
}  // namespace racking
