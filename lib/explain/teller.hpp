// One traced reading told in plain words.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "context/trace.hpp"
#include "context/workspace.hpp"
#include "explain/forms.hpp"
#include "note_content.hpp"
#include "racking/explanation.hpp"

namespace racking::explain {

// Made for one explanation: each member function gives it, once.
class Teller {
 public:
  Teller(const Note::Content& note, const context::Workspace& work);

  Explanation aroma(const Aroma& one, const context::TracedReading& reading);
  Explanation structure(const Reading& one, const context::TracedReading& reading);
  Explanation trait(const Trait& one, const context::TracedReading& reading);
  Explanation sight(const Sight& one, const context::TracedReading& reading);
  Explanation quantity(const Quantity& one, const context::TracedReading& reading);
  Explanation name(const Name& one, const context::TracedReading& reading);
  Explanation fault(const FaultReading& one, const std::vector<Span>& spans,
                    const std::vector<const context::TracedReading*>& readings);
  Explanation unmapped(Span span);

 private:
  // What the words of a mention map to, told in full.
  struct Meaning {
    std::string what;      // "blackcurrant, of the hedgerow"
    std::string named;     // "one of its names"
    lexicon::SenseKind kind = lexicon::SenseKind::known;
    std::uint32_t index = lexicon::none;   // none: whichever sense of the kind it has
  };

  // Words and forms.
  void words(const match::Mention& mention, const Meaning& meaning);
  void spelling(const match::Mention& mention);
  void parts(const match::Mention& mention);
  void sense(std::uint32_t mention);
  std::string named(const match::Mention& mention, const Meaning& meaning, std::string& rule);
  std::string condition(const context::Decision& held) const;

  // Levels.
  void level(const context::TracedReading& reading, Dimension dimension);
  void base(const context::Decision& from, Dimension dimension);
  void base_level(const context::Decision& from, Dimension dimension);
  void change(const context::Decision& step, Dimension dimension);
  void shift(const context::Decision& step, Dimension dimension);

  // What the words around it set.
  void surroundings(const context::TracedReading& reading, Stance stance, When when, Frame frame,
                    std::optional<Phase> phase);
  void stance(const context::TracedReading& reading, Stance its);
  void when(const context::TracedReading& reading, When its);
  void frame(const context::TracedReading& reading, Frame its);
  void phase(const context::TracedReading& reading, Phase its);
  std::optional<Phase> cued_phase(const context::TracedReading& reading) const;
  void strength_and_state(const Aroma& one, const context::TracedReading& reading);
  void place(const Sight& one, const context::TracedReading& reading);
  void suspicion(const context::TracedReading& reading, const std::vector<Span>& spans,
                 std::string_view fault);
  void by_cue(std::string_view what, std::string_view label, const context::Decision& cue);
  void unmapped_word(std::uint32_t token);

  // Small things.
  void add(std::string_view what, std::string_view rule, Span span, std::string words);
  Explanation finish();
  Span span(std::uint32_t first, std::uint32_t last) const;
  std::string quoted(std::uint32_t first, std::uint32_t last) const;
  std::string quoted(Span span) const;
  std::string read_as(const match::Mention& mention) const;
  const match::Mention* mention(std::uint32_t index) const;
  const lexicon::CueRecord& cue(const context::Decision& decision) const;
  std::string because(const lexicon::CueRecord& cue) const;

  const Note::Content& note_;
  const context::Workspace& work_;
  const lexicon::CompiledLexicon& lexicon_;
  const Forms& forms_;
  Explanation out_;
};

}  // namespace racking::explain
