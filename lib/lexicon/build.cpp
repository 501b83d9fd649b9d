#include "lexicon/build.hpp"

#include <algorithm>
#include <tuple>

#include "lexicon/builder.hpp"

namespace racking::lexicon {

std::string build(const Source& source, const CompiledLexicon* base,
                  std::vector<Problem>& problems) {
  Builder builder(source, base, problems);
  builder.take_base();
  builder.declare();
  builder.fill_descriptors();
  builder.fill_records();
  builder.claim_forms();
  builder.settle_slots();
  builder.inflect_forms();
  builder.spread_alternatives();
  builder.attach_rules();
  builder.check_collisions();
  if (!problems.empty()) {
    std::stable_sort(problems.begin(), problems.end(), [](const Problem& a, const Problem& b) {
      return std::tie(a.source, a.line, a.column) < std::tie(b.source, b.line, b.column);
    });
    return {};
  }
  builder.emit_trie();
  builder.emit_slots();
  builder.emit_spellings();
  return base == nullptr ? write_blob(builder.tables(), source.name, source.version)
                         : write_blob(builder.tables(), base->name, base->version);
}

}  // namespace racking::lexicon
