// What the files of the module share: the boxes that Python objects are, and their registration.
#pragma once

#include <pybind11/pybind11.h>

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include <racking/racking.hpp>

#include "code_points.hpp"

namespace racking_python {

namespace py = pybind11;

// Shared, so that one lexicon is one Python object for as long as that lives.
struct LexiconBox {
  racking::Lexicon lexicon;
};
using LexiconPointer = std::shared_ptr<LexiconBox>;

struct DescriptorBox {
  LexiconPointer lexicon;
  racking::Descriptor descriptor;
};

struct OverlayBox {
  racking::Overlay overlay;
  std::string origin;               // the folder, or the name of the text
  std::optional<std::string> toml;  // where it came from text
};

struct ReaderBox {
  racking::Reader reader;
  LexiconPointer lexicon;
  std::size_t size_limit;
  int tasting_year;                 // 0: not known
};

// A note with what Python asks of it often. Fields are made when first asked for.
struct NoteBox {
  racking::Note note;
  LexiconPointer lexicon;
  py::object text;  // the caller's own string
  bool ascii = true;
  int tasting_year = 0;             // that its reader was told of
  std::optional<CodePoints> code_points;
  // One slot a field, in the order of `Field`.
  enum class Field : std::uint8_t {
    wine,
    statements,
    aromas,
    aside_aromas,
    readings,
    aside_readings,
    structure,
    traits,
    aside_traits,
    sight,
    aside_sight,
    quantities,
    condition,
    aside_faults,
    maturity,
    names,
    remarks,
    unmapped,
    problems
  };
  static constexpr std::size_t field_count = 19;
  // Made with the first field, so that a note nobody asks is small.
  std::unique_ptr<std::array<py::object, field_count>> fields;

  const CodePoints& offsets() {
    if (!code_points) code_points.emplace(ascii ? std::string_view() : note.text());
    return *code_points;
  }
};

std::unique_ptr<NoteBox> boxed(racking::Note note, LexiconPointer lexicon, py::object text,
                               bool ascii);
py::object descriptor_object(const LexiconPointer&, racking::Descriptor);

void bind_errors(py::module_&);
void bind_lexicon(py::module_&);
void bind_measures(py::module_&);
void bind_note(py::module_&);
void bind_reader(py::module_&);
void bind_batch(py::module_&);
void bind_suggestions(py::module_&);
void bind_vocabulary(py::module_&);
void write_docs(py::module_&);
const char* read_doc() noexcept;  // of Reader.read

}  // namespace racking_python
