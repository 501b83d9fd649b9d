// The nouns of WordNet 3.0 (Princeton University), as Debian's wordnet-base has them in
// /usr/share/wordnet; the format is that of WordNet's manual page wndb(5WN).
#pragma once

#include <cstdint>
#include <fstream>
#include <set>
#include <span>
#include <sstream>
#include <string>
#include <unordered_map>
#include <utility>
#include <vector>

// Synsets by their byte offset in data.noun, which is how WordNet names them.
class WordNetNouns {
 public:
  WordNetNouns() {
    std::ifstream data("/usr/share/wordnet/data.noun");
    for (std::string line; std::getline(data, line);)
      if (!line.starts_with(' ')) read_synset(line);
    std::ifstream index("/usr/share/wordnet/index.noun");
    for (std::string line; std::getline(index, line);)
      if (!line.starts_with(' ')) read_senses(line);
  }

  bool empty() const { return parents_.empty(); }
  std::size_t size() const { return parents_.size(); }
  // The senses of a word in the order of index.noun, most frequent first.
  std::span<const std::uint32_t> senses(const std::string& word) const {
    const auto found = senses_.find(word);
    if (found == senses_.end()) return {};
    return found->second;
  }
  std::uint32_t first_sense(const std::string& word) const {
    const auto all = senses(word);
    return all.empty() ? 0 : all.front();
  }
  // The word itself if it is listed, else by the noun endings of morphy(7WN), else "".
  std::string base_form(const std::string& word) const {
    if (senses_.contains(word)) return word;
    static const std::pair<std::string, std::string> endings[] = {
        {"s", ""},   {"ses", "s"}, {"xes", "x"},   {"zes", "z"}, {"ches", "ch"}, {"shes", "sh"},
        {"men", "man"}, {"ies", "y"}};
    for (const auto& [ending, replacement] : endings)
      if (word.ends_with(ending)) {
        std::string base = word.substr(0, word.size() - ending.size()) + replacement;
        if (senses_.contains(base)) return base;
      }
    return {};
  }
  std::span<const std::uint32_t> parents(std::uint32_t synset) const {
    const auto found = parents_.find(synset);
    if (found == parents_.end()) return {};
    return found->second;
  }
  std::string word(std::uint32_t synset) const { return words_.at(synset); }
  // The synset itself and all above it.
  std::set<std::uint32_t> ancestors(std::uint32_t synset) const {
    std::set<std::uint32_t> out{synset};
    for (const std::uint32_t parent : parents(synset)) out.merge(ancestors(parent));
    return out;
  }
  // How many synsets each one holds, itself included.
  std::unordered_map<std::uint32_t, std::size_t> sizes() const {
    std::unordered_map<std::uint32_t, std::size_t> out;
    for (const auto& [synset, above] : parents_)
      for (const std::uint32_t one : ancestors(synset)) ++out[one];
    return out;
  }

 private:
  // offset lex_filenum ss_type w_cnt word lex_id … p_cnt [symbol offset pos source/target] …
  void read_synset(const std::string& line) {
    std::istringstream fields(line);
    std::string skip, word, symbol, pos;
    std::uint32_t offset, target;
    unsigned words, pointers;
    fields >> offset >> skip >> skip >> std::hex >> words >> std::dec;
    for (unsigned i = 0; i < words; ++i) {
      fields >> word >> skip;
      if (i == 0) words_[offset] = word;
    }
    fields >> pointers;
    auto& parents = parents_[offset];
    for (unsigned i = 0; i < pointers; ++i) {
      fields >> symbol >> target >> pos >> skip;
      if (symbol == "@" || symbol == "@i") parents.push_back(target);   // hypernyms, instance too
    }
  }

  // lemma pos synset_cnt … synset_offset [synset_offset …]
  void read_senses(const std::string& line) {
    std::istringstream fields(line);
    std::vector<std::string> all;
    for (std::string field; fields >> field;) all.push_back(field);
    const std::size_t count = std::stoul(all[2]);
    auto& senses = senses_[all[0]];
    for (std::size_t i = all.size() - count; i < all.size(); ++i)
      senses.push_back(static_cast<std::uint32_t>(std::stoul(all[i])));
  }

  std::unordered_map<std::uint32_t, std::vector<std::uint32_t>> parents_;
  std::unordered_map<std::uint32_t, std::string> words_;
  std::unordered_map<std::string, std::vector<std::uint32_t>> senses_;
};
