// Aromas of one phase as a sentence.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "racking/note.hpp"

namespace racking::render {

// A taster's capital at the head of a sentence goes; capitals inside a word stay.
std::string lowered(std::string_view words);

// Collects the aromas of one phase, each descriptor once a stance, and words them so that
// no strength or state reaches the item after its own.
class AromaList {
 public:
  explicit AromaList(const Lexicon& lexicon) : lexicon_(lexicon) {}

  void add(const Note&, const Aroma&);
  // Empty if there is nothing. `after_nose`: a sentence on the nose stands before it.
  std::string sentence(Phase, bool after_nose) const;
  std::string aired_sentence() const;

 private:
  struct Item {
    Descriptor descriptor;
    std::string label;
    State state = State::none;
    std::optional<Interval> strength;
    Stance stance = Stance::stated;
  };

  std::vector<const Item*> of(Stance) const;
  std::string label_of(const Note&, const Aroma&) const;
  std::string prefix(const Item&) const;
  std::string stated_words() const;
  std::string hedged_words() const;
  std::string denied_words() const;
  std::string body() const;
  std::string all_hedged(const std::vector<const Item*>&) const;
  bool would_share(const std::string& before, const std::string& after) const;

  const Lexicon& lexicon_;
  std::vector<Item> items_;
};

}  // namespace racking::render
