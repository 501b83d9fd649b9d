// Strings and lists of a blob in the making, each stored once.
#pragma once

#include <cstdint>
#include <map>
#include <memory_resource>
#include <span>
#include <string_view>
#include <vector>

#include "lexicon/compiled.hpp"
#include "lexicon/slots.hpp"

namespace racking::lexicon {

// What is needed while building, and no longer, comes from the builder's one arena: thousands of
// small pieces cost more to free than to fill.
using Arena = std::pmr::memory_resource;

class Pool {
 public:
  Pool(Tables& tables, Arena* arena) : tables_(tables), lists_(arena) {}
  StringRef text(std::string_view text);
  Range list(std::span<const std::uint32_t> items);
  std::string_view view(StringRef ref) const {
    return {tables_.strings.data() + ref.offset, ref.length};
  }
  std::span<const std::uint32_t> view(Range range) const {
    return std::span(tables_.indices).subspan(range.begin, range.count);
  }

 private:
  Tables& tables_;
  std::vector<StringRef> texts_;
  Slots by_text_;
  std::pmr::map<std::vector<std::uint32_t>, Range> lists_;
};

}  // namespace racking::lexicon
