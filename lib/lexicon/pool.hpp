// Strings and lists of a blob in the making, each stored once.
#pragma once

#include <cstdint>
#include <map>
#include <span>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "lexicon/compiled.hpp"

namespace racking::lexicon {

class Pool {
 public:
  explicit Pool(Tables& tables) : tables_(tables) {}
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
  std::unordered_map<std::string, StringRef> texts_;
  std::map<std::vector<std::uint32_t>, Range> lists_;
};

}  // namespace racking::lexicon
