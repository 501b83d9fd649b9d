// Explanations of what one note says, from reading its text once more.
#pragma once

#include <cstddef>
#include <vector>

#include "context/trace.hpp"
#include "context/workspace.hpp"
#include "note_content.hpp"
#include "racking/explanation.hpp"

namespace racking::explain {

// Costs one reading to make, and a little for each explanation. Throws Error (bad_argument) for
// what is no reading of the note. Belongs to one thread.
class Explainer {
 public:
  explicit Explainer(const Note::Content& note);
  Explainer(const Explainer&) = delete;
  Explainer& operator=(const Explainer&) = delete;

  Explanation of(const Aroma&) const;
  Explanation of(const Reading&) const;
  Explanation of(const Trait&) const;
  Explanation of(const Sight&) const;
  Explanation of(const Quantity&) const;
  Explanation of(const FaultReading&) const;
  Explanation of(const Name&) const;
  Explanation of_unmapped(Span) const;

 private:
  template <class Element>
  const context::TracedReading& traced(context::Written kind, const std::vector<Element>& found,
                                       const std::vector<Element>* asides,
                                       const Element& one) const;
  std::vector<const context::TracedReading*> traced_faults(const FaultReading& one) const;

  const Note::Content& note_;
  Note::Content again_;
  context::Trace trace_;
  context::Workspace work_;
};

}  // namespace racking::explain
