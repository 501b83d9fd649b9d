// Builds the hierarchy of descriptors under its one root.
#include <algorithm>

#include "lexicon/builder.hpp"

namespace racking::lexicon {
namespace {

constexpr std::string_view root_id = "estate";

bool is_descriptor(const Entry& entry) {
  return entry.kind == "descriptor" || entry.kind == "family";
}

std::string spaced(std::string_view id) {
  std::string out(id);
  std::replace(out.begin(), out.end(), '-', ' ');
  return out;
}

}  // namespace

void Builder::declare_root() {
  DescriptorRecord root{};
  root.id = root.label = pool_.text(root_id);
  root.family = none;
  root.depth = 1;
  tables_.descriptors.push_back(root);
  parents_.emplace_back();
  compounds_.emplace_back();
  parents_places_.push_back({no_file, 0, 0});
  descriptor_ids_.emplace(std::string(root_id), 0);
}

void Builder::declare_descriptor(const Entry& entry) {
  if (flag(entry, "extends")) return;
  const auto index = static_cast<std::uint32_t>(tables_.descriptors.size());
  if (!declare_id(entry, descriptor_ids_, index, "descriptor")) return;
  DescriptorRecord record{};
  record.id = pool_.text(text(entry, "id")->value);
  record.label = pool_.text(spaced(text(entry, "id")->value));
  record.is_family = entry.kind == "family";
  tables_.descriptors.push_back(record);
  parents_.emplace_back();
  compounds_.emplace_back();
  parents_places_.push_back(place_of(entry, "parents"));
}

void Builder::declare() {
  if (base_ == nullptr) declare_root();
  index_of_entry_.assign(source_.entries.size(), none);
  for (std::size_t i = 0; i < source_.entries.size(); ++i) {
    const Entry& entry = source_.entries[i];
    const std::size_t before = tables_.descriptors.size();
    if (is_descriptor(entry)) declare_descriptor(entry);
    if (tables_.descriptors.size() > before)
      index_of_entry_[i] = static_cast<std::uint32_t>(before);
    if (entry.kind == "compound") declare_compound(entry);
    if (entry.kind == "fault") declare_fault(entry);
    if (entry.kind == "trait" && text(entry, "id") != nullptr) {
      check_id(*text(entry, "id"));
      trait(text(entry, "id")->value);
    }
  }
  declare_inflections();
  declare_slots();
}

void Builder::fill_descriptors() {
  for (std::size_t i = 0; i < source_.entries.size(); ++i) {
    const Entry& entry = source_.entries[i];
    if (!is_descriptor(entry)) continue;
    if (flag(entry, "extends") && text(entry, "id") != nullptr) {
      const auto found = resolve({*text(entry, "id")}, descriptor_ids_, "descriptor");
      if (!found.empty()) index_of_entry_[i] = found.front();
    }
    if (index_of_entry_[i] != none) fill_descriptor(entry, index_of_entry_[i]);
  }
  if (check_cycles()) measure_depths();
}

void Builder::fill_descriptor(const Entry& entry, std::uint32_t index) {
  const auto compounds = resolve(list(entry, "compounds"), compound_ids_, "compound");
  for (const std::uint32_t compound : compounds) {
    auto& own = compounds_[index];
    if (std::find(own.begin(), own.end(), compound) == own.end()) own.push_back(compound);
  }
  DescriptorRecord& record = tables_.descriptors[index];
  if (const Text* label = text(entry, "label")) record.label = pool_.text(label->value);
  if (const Text* gloss = text(entry, "gloss")) record.gloss = pool_.text(gloss->value);
  record.compounds = pool_.list(compounds_[index]);
  record.origin = static_cast<std::uint8_t>(record.origin | mask(entry, "origin", ClosedList::origin));
  record.state = static_cast<std::uint16_t>(record.state | mask(entry, "state", ClosedList::state));
  add_parents(entry, index);
}

void Builder::add_parents(const Entry& entry, std::uint32_t index) {
  std::vector<std::uint32_t>& own = parents_[index];
  if (entry.kind == "family") {
    if (own.empty()) own.push_back(0);
    return;
  }
  const Texts& names = list(entry, "parents");
  if (names.empty() && !flag(entry, "extends"))
    report(place_of(entry, "parents"), "the descriptor has no parents",
           "add parents = [\"…\"], its family or another descriptor first");
  for (const Text& name : names) {
    const auto found = resolve({name}, descriptor_ids_, "descriptor");
    if (found.empty()) continue;
    if (found.front() == 0)
      report(name.place, "only families stand right below the root", "name its family");
    else if (std::find(own.begin(), own.end(), found.front()) != own.end())
      report(name.place, "the parent '" + name.value + "' is given twice", "remove one");
    else
      own.push_back(found.front());
  }
}

// Reports each cycle once, where the parents stand that close it.
bool Builder::check_cycles() {
  enum : std::uint8_t { fresh, open, done };
  std::vector<std::uint8_t> mark(parents_.size(), fresh);
  std::vector<std::pair<std::uint32_t, std::size_t>> path;   // a node and its next parent
  bool good = true;
  const auto enter = [&](std::uint32_t node) {
    mark[node] = open;
    path.emplace_back(node, 0);
  };
  for (std::uint32_t start = 0; start < parents_.size(); ++start) {
    if (mark[start] == fresh) enter(start);
    while (!path.empty()) {
      const std::uint32_t node = path.back().first;
      if (path.back().second == parents_[node].size()) {
        mark[node] = done;
        path.pop_back();
        continue;
      }
      const std::uint32_t parent = parents_[node][path.back().second++];
      if (mark[parent] == fresh) enter(parent);
      else if (mark[parent] == open) {
        good = false;
        report_cycle(path, parent);
      }
    }
  }
  return good;
}

void Builder::report_cycle(const std::vector<std::pair<std::uint32_t, std::size_t>>& path,
                           std::uint32_t closing) {
  const auto id = [&](std::uint32_t node) { return pool_.view(tables_.descriptors[node].id); };
  auto at = path.begin();
  while (at->first != closing) ++at;
  std::string cycle;
  for (; at != path.end(); ++at) (cycle += id(at->first)) += " → ";
  cycle += id(closing);
  report(parents_places_[path.back().first], "the parents form a cycle: " + cycle,
         "remove a parent of one of them");
}

void Builder::measure_depths() {
  auto& all = tables_.descriptors;
  std::vector<std::vector<std::uint32_t>> children(all.size());
  std::vector<std::size_t> waiting(all.size());
  std::vector<std::uint32_t> ready;
  for (std::uint32_t i = 0; i < all.size(); ++i) {
    waiting[i] = parents_[i].size();
    for (const std::uint32_t parent : parents_[i]) children[parent].push_back(i);
    if (waiting[i] == 0) ready.push_back(i);
    all[i].depth = 1;
  }
  for (std::size_t at = 0; at < ready.size(); ++at)
    for (const std::uint32_t child : children[ready[at]]) {
      all[child].depth = std::max(all[child].depth, all[ready[at]].depth + 1);
      if (--waiting[child] == 0) ready.push_back(child);
    }
  for (const std::uint32_t i : ready) {
    DescriptorRecord& record = all[i];
    record.parents = pool_.list(parents_[i]);
    record.children = pool_.list(children[i]);
    if (record.is_family)
      record.family = i;
    else
      record.family = parents_[i].empty() ? none : all[parents_[i].front()].family;
  }
}

}  // namespace racking::lexicon
