// Suggestions: what the lexicon lacks.
#include <utility>

#include "errors.hpp"
#include "python.hpp"
#include "text.hpp"
#include "types.hpp"

namespace racking_python {
namespace {

using racking::Suggestion;
using racking::Suggestions;

const racking::Note& note_of(py::handle note) {
  if (!py::isinstance<NoteBox>(note))
    raise_wrong_type(std::string("note must be a Note, not ") + Py_TYPE(note.ptr())->tp_name);
  return note.cast<const NoteBox&>().note;
}

py::object family_object(const std::string& family) {
  return family.empty() ? py::object(py::none()) : py::object(to_python(family));
}

py::object suggestion_object(const Suggestion& one) {
  py::tuple contexts(one.contexts.size());
  for (std::size_t at = 0; at < contexts.size(); ++at)
    contexts[at] = py::make_tuple(to_python(one.contexts[at].id), to_python(one.contexts[at].text));
  return made(types().suggestion, to_python(one.phrase), one.occurrences, one.excess, contexts,
              family_object(one.family), family_object(one.runner_up), one.association, one.margin,
              one.companions, one.learned, one.sure);
}

py::list list_of(const std::vector<Suggestion>& all) {
  py::list out;
  for (const Suggestion& one : all) out.append(suggestion_object(one));
  return out;
}

}  // namespace

void bind_suggestions(py::module_& module) {
  py::class_<Suggestions>(module, "Suggestions")
      .def(py::init([](std::size_t phrases, std::size_t contexts) {
             return Suggestions(racking::SuggestionOptions{phrases, contexts});
           }),
           py::kw_only(), py::arg("phrases") = 20000, py::arg("contexts") = 3)
      .def(
          "add",
          [](Suggestions& self, py::handle note, py::handle id) {
            self.add(note_of(note), utf8_of(id, "id"));
          },
          py::arg("note"), py::arg("id") = "")
      .def(
          "top", [](const Suggestions& self, std::size_t wanted) { return list_of(self.top(wanted)); },
          py::arg("wanted"))
      .def(
          "to_toml",
          [](const Suggestions& self, std::size_t wanted) { return to_python(self.to_toml(wanted)); },
          py::arg("wanted"))
      .def_property_readonly("is_exact", &Suggestions::is_exact)
      .def_property_readonly("note_count", &Suggestions::note_count);
  module.def(
      "suggest",
      [](py::iterable notes, std::size_t wanted, std::size_t phrases, std::size_t contexts) {
        Suggestions suggestions(racking::SuggestionOptions{phrases, contexts});
        for (const py::handle note : notes)
          if (!note.is_none()) suggestions.add(note_of(note));
        return list_of(suggestions.top(wanted));
      },
      py::arg("notes"), py::arg("wanted"), py::kw_only(), py::arg("phrases") = 20000,
      py::arg("contexts") = 3);
}

}  // namespace racking_python
