#include "types.hpp"

#include "errors.hpp"
#include "text.hpp"

namespace racking_python {
namespace {

py::tuple members_of(const py::module_& module, const char* name) {
  return py::tuple(py::list(module.attr(name)));
}

const Types* load() {
  const auto records = py::module_::import("racking.records");
  const auto vocabulary = py::module_::import("racking.vocabulary");
  auto types = std::make_unique<Types>();
  const auto record = [&](py::object& slot, const char* name) { slot = records.attr(name); };
  record(types->span, "Span");
  record(types->interval, "Interval");
  record(types->cue, "Cue");
  record(types->statement, "Statement");
  record(types->aroma, "Aroma");
  record(types->reading, "Reading");
  record(types->level, "Level");
  record(types->structure, "Structure");
  record(types->trait, "Trait");
  record(types->sight, "Sight");
  record(types->quantity, "Quantity");
  record(types->fault_reading, "FaultReading");
  record(types->condition, "Condition");
  record(types->evidence, "Evidence");
  record(types->maturity, "Maturity");
  record(types->name, "Name");
  record(types->suggestion, "Suggestion");
  record(types->remark, "Remark");
  record(types->unmapped, "Unmapped");
  record(types->text_problem, "TextProblem");
  record(types->reason, "Reason");
  record(types->explanation, "Explanation");
  record(types->wine, "Wine");
  record(types->problem, "Problem");
  const auto members = [&](py::tuple& slot, const char* name) {
    slot = members_of(vocabulary, name);
  };
  members(types->dimensions, "Dimension");
  members(types->phases, "Phase");
  members(types->stances, "Stance");
  members(types->whens, "When");
  members(types->frames, "Frame");
  members(types->states, "State");
  members(types->origins, "Origin");
  members(types->hues, "Hue");
  members(types->faults, "Fault");
  members(types->quantity_kinds, "QuantityKind");
  members(types->name_kinds, "NameKind");
  members(types->wine_colours, "WineColour");
  members(types->wine_styles, "WineStyle");
  members(types->verdicts, "Verdict");
  members(types->stages, "Stage");
  members(types->sight_parts, "SightPart");
  members(types->points_to, "PointsTo");
  return types.release();
}

template <class Enum>
Enum parsed(py::handle value, const char* what) {
  const std::string id = utf8_of(value, what);
  if (const auto found = racking::parse<Enum>(id)) return *found;
  raise_bad_argument(std::string(what) + ": '" + id + "' is not in the list");
}

}  // namespace

const Types& types() {
  static const Types* loaded = nullptr;  // the GIL guards it
  if (loaded == nullptr) loaded = load();
  return *loaded;
}

template <>
racking::Dimension enum_of<racking::Dimension>(py::handle value, const char* what) {
  return parsed<racking::Dimension>(value, what);
}
template <>
racking::Origin enum_of<racking::Origin>(py::handle value, const char* what) {
  return parsed<racking::Origin>(value, what);
}
template <>
racking::Offsets enum_of<racking::Offsets>(py::handle value, const char* what) {
  const std::string id = utf8_of(value, what);
  if (id == "byte") return racking::Offsets::byte;
  if (id == "codepoint") return racking::Offsets::codepoint;
  if (id == "utf16") return racking::Offsets::utf16;
  raise_bad_argument(std::string(what) + " must be \"byte\", \"codepoint\" or \"utf16\", not '" +
                     id + "'");
}
template <>
racking::JsonOptions::Depth enum_of<racking::JsonOptions::Depth>(py::handle value,
                                                                 const char* what) {
  const std::string id = utf8_of(value, what);
  if (id == "full") return racking::JsonOptions::Depth::full;
  if (id == "plain") return racking::JsonOptions::Depth::plain;
  raise_bad_argument(std::string(what) + " must be \"full\" or \"plain\", not '" + id + "'");
}

}  // namespace racking_python
