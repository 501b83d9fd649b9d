// What a lexicon lacks, from the notes that show it.
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "racking/export.hpp"
#include "racking/note.hpp"

namespace racking {
inline namespace v1 {

struct SuggestionOptions {
  /// Phrases held at a time; a new one beyond them takes the place of the rarest. At least 1.
  std::size_t phrases = 20000;
  /// Contexts kept of each phrase.
  std::size_t contexts = 3;
};

/// A phrase that the lexicon doesn't know, and the family that its company speaks for.
struct Suggestion {
  struct Context {
    std::string id;                  ///< of the note; may be empty
    std::string text;                ///< the writer's own words round the phrase, on one line
  };
  std::string phrase;                ///< case folded, in NFC, single spaces
  std::uint64_t occurrences = 0;     ///< at most this many …
  std::uint64_t excess = 0;          ///< … and at least occurrences - excess
  std::vector<Context> contexts;
  /// Ids of the two likeliest families, the likelier first; empty if nothing was learned.
  std::string family, runner_up;
  /// Weight of evidence for `family`, in nats: the positive pointwise mutual information of
  /// each companion with the family (Bullinaria and Levy 2007), smoothed and summed.
  double association = 0;
  double margin = 0;                 ///< how far it is ahead of `runner_up`, in nats
  std::uint64_t companions = 0;      ///< companions of the phrase that were weighed
  std::uint64_t learned = 0;         ///< aromas of known families, in the notes, that taught it
  /// Whether the evidence is enough to name the family: see `Suggestions`.
  bool sure = false;
};

/// Gathers unknown phrases from notes, in bounded memory, and the company that they keep.
///
/// Company is the two words on either side and the nearest aroma on either side in the sentence.
/// The aromas that are known teach which company each family keeps; a phrase's likely family is
/// the one whose company is most like its own. It is `sure` if the phrase was seen three times at
/// least, two hundred known aromas taught it, and the margin is eight nats: of those a little under half are right. Phrases are counted by
/// Space-Saving (Metwally, Agrawal and El Abbadi 2005); the first 32,768 companions and 64 families
/// are weighed, later ones are not. At most some 40 MB.
///
/// Not safe to change from several threads at once. Notes may be of one lexicon only.
class RACKING_EXPORT Suggestions {
 public:
  /// Throws `Error` (bad_argument) if no phrase may be held.
  explicit Suggestions(SuggestionOptions = {});
  Suggestions(Suggestions&&) noexcept;
  Suggestions& operator=(Suggestions&&) noexcept;
  ~Suggestions();

  /// Cost: linear in the note. `id` names the note in contexts. Throws `Error` (bad_argument) if
  /// the note was read with another lexicon than those before.
  void add(const Note&, std::string_view id = {});
  /// The most frequent phrases, the surest counts first among equals. Cost: the phrases held, and
  /// each of those asked for times the families.
  std::vector<Suggestion> top(std::size_t wanted) const;
  /// The same as the text of a TOML file for an overlay: an entry each, its figures, counts and
  /// contexts as comments, and a heading that says how it was made. An entry whose evidence is
  /// weak is a comment too, the family to be filled in, so the file loads as it is.
  std::string to_toml(std::size_t wanted) const;
  /// Whether the sketch held every phrase, so that counts are exact.
  bool is_exact() const noexcept;
  std::size_t note_count() const noexcept;

 private:
  struct State;
  std::unique_ptr<State> state_;
};

/// The `wanted` most frequent unknown phrases of these notes.
RACKING_EXPORT std::vector<Suggestion> suggest(std::span<const Note> notes, std::size_t wanted,
                                               SuggestionOptions = {});

}  // namespace v1
}  // namespace racking
