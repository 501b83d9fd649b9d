// Reads any bytes as a note: every span must lie inside the text, statements must tile it, and
// records of all depths and offsets must be written. A broken promise ends the process.
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <string_view>

#include "racking/racking.hpp"

namespace {

using namespace racking;

void require(bool holds, const char* promise) {
  if (holds) return;
  std::fprintf(stderr, "broken: %s\n", promise);
  std::abort();
}

class Checker {
 public:
  explicit Checker(const Note& note) : note_(note) {}

  void check() const {
    check_statements();
    for (const auto aromas : {note_.aromas(), note_.aside_aromas()})
      for (const Aroma& aroma : aromas) {
        require(bool(aroma.descriptor), "an aroma has a descriptor");
        item(aroma.span, aroma.cues);
        for (const Span part : note_.parts(aroma.parts))
          require(aroma.span.contains(part), "parts lie in their aroma");
        if (aroma.strength) interval(*aroma.strength);
      }
    for (const auto readings : {note_.readings(), note_.aside_readings()})
      for (const Reading& reading : readings) {
        item(reading.span, reading.cues);
        if (reading.range) interval(*reading.range);
      }
    for (const auto traits : {note_.traits(), note_.aside_traits()})
      for (const Trait& trait : traits) item(trait.span, trait.cues);
    for (const auto sights : {note_.sight(), note_.aside_sight()})
      for (const Sight& sight : sights) item(sight.span, sight.cues);
    for (const Quantity& quantity : note_.quantities()) span(quantity.span);
    faults(note_.condition().faults);
    faults(note_.aside_faults());
    for (const Evidence& evidence : note_.maturity().evidence) span(evidence.span);
    for (const Name& name : note_.names()) span(name.span);
    for (const Remark& remark : note_.remarks())
      for (const Span place : remark.spans) span(place);
    for (const Span unmapped : note_.unmapped()) span(unmapped);
    for (const TextProblem& problem : note_.problems()) span(problem.span);
    require(note_.coverage() >= 0 && note_.coverage() <= 1, "coverage is a share");
    check_levels();
  }

 private:
  void span(Span place) const {
    require(place.begin <= place.end, "a span runs forward");
    require(place.end <= note_.text().size(), "a span lies in the text");
    require(note_.text(place) ==
                std::string_view(note_.text()).substr(place.begin, place.end - place.begin),
            "the words of a span are its slice");
  }
  void item(Span place, Slice cues) const {
    require(!place.empty(), "what is read stands somewhere");
    span(place);
    for (const Cue& cue : note_.cues(cues)) {
      span(cue.span);
      require(!cue.rule.empty(), "a cue has its rule");
    }
  }
  template <class Faults>
  void faults(const Faults& list) const {
    for (const FaultReading& fault : list)
      for (const Span place : note_.parts(fault.spans)) span(place);
  }
  static void interval(Interval range) {
    require(1 <= range.low && range.low <= range.high && range.high <= 5, "a range is of steps");
  }
  void check_statements() const {
    std::uint32_t end = 0;
    for (const Statement& statement : note_.statements()) {
      span(statement.span);
      require(statement.span.begin >= end, "statements come in order, without overlap");
      end = statement.span.end;
    }
  }
  void check_levels() const {
    for (std::size_t i = 0; i < dimension_count; ++i) {
      const Level& level = note_.structure()[static_cast<Dimension>(i)];
      if (level.range) interval(*level.range);
      for (const std::uint32_t reading : level.readings)
        require(reading < note_.readings().size(), "a level's readings are the note's");
    }
  }

  const Note& note_;
};

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const Reader reader;
  const Note note = reader.read(std::string(reinterpret_cast<const char*>(data), size));
  require(note.text() == std::string_view(reinterpret_cast<const char*>(data), size),
          "the text is kept as it was given");
  Checker(note).check();
  for (const auto depth : {JsonOptions::Depth::full, JsonOptions::Depth::plain})
    for (const auto offsets : {Offsets::byte, Offsets::codepoint, Offsets::utf16}) {
      JsonOptions options;
      options.depth = depth;
      options.offsets = offsets;
      options.id = std::string_view(note.text()).substr(0, 40);
      const std::string json = note.to_json(options);
      require(json.starts_with('{') && json.ends_with('}'), "a record is an object");
      require(json.find('\n') == std::string::npos, "a record is one line");
    }
  return 0;
}
