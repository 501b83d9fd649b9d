// The immutable lexicon: what words there are, and what they may mean.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "racking/error.hpp"
#include "racking/export.hpp"
#include "racking/vocabulary.hpp"

namespace racking {
namespace lexicon { class CompiledLexicon; struct Source; }
inline namespace v1 {

class Lexicon;

/// A node of the aroma hierarchy. A light handle, valid as long as any
/// `Lexicon`, `Reader` or `Note` that shares its lexicon lives.
class RACKING_EXPORT Descriptor {
 public:
  Descriptor() noexcept = default;
  Descriptor(const lexicon::CompiledLexicon* lexicon, std::uint32_t index) noexcept
      : lexicon_(lexicon), index_(index) {}

  explicit operator bool() const noexcept { return lexicon_ != nullptr; }
  std::uint32_t index() const noexcept { return index_; }
  std::string_view id() const noexcept;
  std::string_view label() const noexcept;
  std::string_view gloss() const noexcept;  ///< empty where the word is plain
  /// The family it lives in by first parents; itself for a family; the empty
  /// handle for the root.
  Descriptor family() const noexcept;
  bool is_family() const noexcept;
  /// From the family down to itself along first parents. Allocates.
  std::vector<Descriptor> path() const;
  std::vector<Descriptor> parents() const;
  std::vector<Descriptor> children() const;
  bool has_origin(Origin) const noexcept;
  /// The states the thing itself is in ("dried" for raisin).
  State state() const noexcept;
  /// Compound labels and their sources, "vanillin (…)".
  std::vector<std::string> compounds() const;
  /// The length of the longest chain of parents to the root, which has 1.
  unsigned depth() const noexcept;

  friend bool operator==(Descriptor, Descriptor) noexcept = default;

 private:
  const lexicon::CompiledLexicon* lexicon_ = nullptr;
  std::uint32_t index_ = 0;
};

/// A user's own words: TOML in the house's format, resolved only against the
/// lexicon it is laid on.
class RACKING_EXPORT Overlay {
 public:
  /// Reads every `.toml` file below a folder. Throws `Error` with every
  /// problem of form found.
  static Overlay load(const std::string& folder);
  /// The same from text in memory; `source` names it in problems.
  static Overlay parse(std::string_view toml, const std::string& source = "overlay");

  Overlay(Overlay&&) noexcept;
  Overlay& operator=(Overlay&&) noexcept;
  Overlay(const Overlay&);
  Overlay& operator=(const Overlay&);
  ~Overlay();

 private:
  friend class Lexicon;
  explicit Overlay(std::shared_ptr<const lexicon::Source>) noexcept;
  std::shared_ptr<const lexicon::Source> source_;
};

/// An immutable, compiled lexicon. Copies share it; safe to use from many
/// threads at once.
class RACKING_EXPORT Lexicon {
 public:
  /// The embedded house lexicon. No files, no network; about a millisecond.
  static Lexicon house();
  /// A whole lexicon from a folder of TOML files. Throws `Error` with every
  /// problem found.
  static Lexicon load(const std::string& folder);
  /// From a blob that `lexicon-compiler` wrote; the bytes are copied.
  static Lexicon from_blob(std::string_view blob);
  /// A blob for `from_blob`. The same lexicon gives the same bytes.
  std::string to_blob() const;

  /// This lexicon with the overlay's entries added. Throws `Error` with every
  /// problem found; this lexicon is unchanged.
  Lexicon overlaid(const Overlay&) const;

  std::string_view name() const noexcept;
  std::string_view version() const noexcept;
  /// 16 hexadecimal digits of the content; equal content, equal digest.
  std::string_view digest() const noexcept;

  Descriptor root() const noexcept;
  std::vector<Descriptor> families() const;
  /// All descriptors, families and root included, in index order.
  std::size_t descriptor_count() const noexcept;
  Descriptor descriptor_at(std::size_t index) const noexcept;
  std::optional<Descriptor> find(std::string_view id) const;
  /// The descriptor that a form can mean ("cassis"), if any.
  std::optional<Descriptor> find_form(std::string_view form) const;
  /// Entries for structure: what one `[[phrase]]` or `[[level]]` says, however many forms say it.
  std::size_t phrase_count() const noexcept;
  /// Ways of writing them: the forms of phrases and levels, traits of theirs included.
  std::size_t phrase_form_count() const noexcept;
  /// Ways of writing a descriptor, plurals and adjectives made by rule included.
  std::size_t descriptor_form_count() const noexcept;

  /// Wu–Palmer similarity, 0 to 1, in this hierarchy: with several parents the
  /// deepest common node counts. See `wu_palmer` for any hierarchy.
  double similarity(Descriptor a, Descriptor b) const;

  const std::shared_ptr<const lexicon::CompiledLexicon>& compiled() const noexcept {
    return compiled_;
  }

 private:
  explicit Lexicon(std::shared_ptr<const lexicon::CompiledLexicon>) noexcept;
  std::shared_ptr<const lexicon::CompiledLexicon> compiled_;
};

}  // namespace v1
}  // namespace racking
