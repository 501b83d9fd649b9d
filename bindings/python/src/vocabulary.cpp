// The closed lists as C++ has them, the words of the scales, and similarity over any hierarchy.
#include <exception>
#include <map>

#include "errors.hpp"
#include "python.hpp"
#include "text.hpp"
#include "types.hpp"

namespace racking_python {
namespace {

template <class Enum>
py::tuple ids(std::size_t count) {
  py::tuple out(count);
  for (std::size_t at = 0; at < count; ++at) out[at] = to_python(name_of(static_cast<Enum>(at)));
  return out;
}

template <class Enum>
py::tuple bit_ids(std::size_t count) {
  py::tuple out(count);
  for (std::size_t at = 0; at < count; ++at)
    out[at] = to_python(name_of(static_cast<Enum>(1U << at)));
  return out;
}

// The ids of every closed list, in the order of the C++ enumerations.
py::dict closed_lists() {
  py::dict out;
  out["Dimension"] = ids<racking::Dimension>(racking::dimension_count);
  out["Phase"] = ids<racking::Phase>(5);
  out["Stance"] = ids<racking::Stance>(3);
  out["When"] = ids<racking::When>(4);
  out["Frame"] = ids<racking::Frame>(8);
  out["State"] = bit_ids<racking::State>(racking::state_count);
  out["Origin"] = bit_ids<racking::Origin>(4);
  out["Hue"] = ids<racking::Hue>(racking::hue_count);
  out["Fault"] = ids<racking::Fault>(racking::fault_count);
  out["QuantityKind"] = ids<racking::QuantityKind>(racking::quantity_kind_count);
  out["NameKind"] = ids<racking::NameKind>(5);
  out["WineColour"] = ids<racking::WineColour>(4);
  out["WineStyle"] = ids<racking::WineStyle>(4);
  out["Verdict"] = ids<racking::Verdict>(3);
  out["Stage"] = ids<racking::Stage>(3);
  out["SightKind"] = ids<racking::SightKind>(7);
  out["BandRule"] = ids<racking::BandRule>(3);
  out["TermCheck"] = ids<racking::TermCheck>(4);
  return out;
}

py::str step_label(py::handle dimension, py::handle step) {
  const auto of = enum_of<racking::Dimension>(dimension, "dimension");
  if (!PyLong_Check(step.ptr()))
    raise_wrong_type(std::string("step must be int, not ") + Py_TYPE(step.ptr())->tp_name);
  int overflow = 0;
  const long value = PyLong_AsLongAndOverflow(step.ptr(), &overflow);
  if (overflow != 0 || value < 1 || value > 5) raise_bad_argument("a step is 1 to 5");
  return to_python(racking::step_label(of, static_cast<int>(value)));
}

// A hierarchy of any hashable nodes, walked once into numbers.
class Hierarchy {
 public:
  explicit Hierarchy(py::function parents_of) : parents_of_(std::move(parents_of)) {}

  std::uint32_t number(const py::object& start) {
    if (const auto known = find(start)) return *known;
    const std::uint32_t number = add(start);
    // Breadth first, so that a deep hierarchy needs no deep stack.
    for (std::size_t at = number; at < nodes_.size(); ++at) {
      std::vector<std::uint32_t> above;
      for (const auto& parent : parents_of_(nodes_[at])) {
        const auto node = py::reinterpret_borrow<py::object>(parent);
        const auto known = find(node);
        above.push_back(known ? *known : add(node));
      }
      parents_[at] = std::move(above);
    }
    return number;
  }

  // wu_palmer would not end on a cycle.
  void refuse_cycles() const {
    std::vector<std::size_t> children(nodes_.size());
    for (const auto& above : parents_)
      for (const std::uint32_t parent : above) ++children[parent];
    std::vector<std::uint32_t> free;
    for (std::uint32_t at = 0; at < children.size(); ++at)
      if (children[at] == 0) free.push_back(at);
    std::size_t seen = 0;
    for (; seen < free.size(); ++seen)
      for (const std::uint32_t parent : parents_[free[seen]])
        if (--children[parent] == 0) free.push_back(parent);
    if (seen != nodes_.size()) raise_bad_argument("parents_of has a cycle");
  }

  std::span<const std::uint32_t> parents(std::uint32_t node) const { return parents_[node]; }

 private:
  std::optional<std::uint32_t> find(const py::object& node) const {
    if (!numbers_.contains(node)) return std::nullopt;
    return numbers_[node].cast<std::uint32_t>();
  }
  std::uint32_t add(const py::object& node) {
    const auto number = static_cast<std::uint32_t>(nodes_.size());
    nodes_.push_back(node);
    parents_.emplace_back();
    numbers_[node] = number;
    return number;
  }

  py::function parents_of_;
  py::dict numbers_;
  std::vector<py::object> nodes_;
  std::vector<std::vector<std::uint32_t>> parents_;
};

double wu_palmer(const py::object& a, const py::object& b, const py::object& parents_of) {
  if (PyCallable_Check(parents_of.ptr()) == 0)
    raise_wrong_type(std::string("parents_of must be callable, not ") +
                     Py_TYPE(parents_of.ptr())->tp_name);
  Hierarchy hierarchy{py::reinterpret_borrow<py::function>(parents_of)};
  const std::uint32_t first = hierarchy.number(a);
  const std::uint32_t second = hierarchy.number(b);
  hierarchy.refuse_cycles();
  return racking::wu_palmer(first, second,
                            [&](std::uint32_t node) { return hierarchy.parents(node); });
}

}  // namespace

void bind_vocabulary(py::module_& module) {
  module.def("version", [] { return to_python(racking::version()); });
  module.def("step_label", &step_label, py::arg("dimension"), py::arg("step"));
  module.def("wu_palmer", &wu_palmer, py::arg("a"), py::arg("b"), py::arg("parents_of"));
  module.def("closed_lists", &closed_lists);
}

}  // namespace racking_python
