// The words of a hunspell dictionary, expanded simply: each entry with each of its suffixes,
// with each of its prefixes, and with both where the affixes allow it. The format is that of
// hunspell(5); the files are those of Debian's hunspell-en-gb and hunspell-en-us.
#pragma once

#include <fstream>
#include <map>
#include <set>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

class Hunspell {
 public:
  // `path` is without its extension. No words: the files are not there.
  explicit Hunspell(const std::string& path) {
    read_affixes(path + ".aff");
    std::ifstream in(path + ".dic");
    std::string line;
    std::getline(in, line);   // how many follow
    while (std::getline(in, line)) add(line.substr(0, line.find_first_of("\t\r ")));
  }

  const std::set<std::string>& words() const { return words_; }

 private:
  struct Affix {
    bool is_suffix, crosses;
    std::string strip, add, condition;
  };

  void read_affixes(const std::string& path) {
    std::ifstream in(path);
    std::map<std::string, bool> crosses;
    for (std::string line; std::getline(in, line);) {
      std::istringstream fields(line);
      std::string kind, flag, strip, add, condition;
      fields >> kind >> flag;
      if (kind == "ONLYINCOMPOUND" || kind == "FORBIDDENWORD" || kind == "NEEDAFFIX") left_out_ += flag;
      if ((kind != "PFX" && kind != "SFX") || !(fields >> strip >> add)) continue;
      if (!(fields >> condition)) {   // the heading of a group
        crosses[kind + flag] = strip == "Y";
        continue;
      }
      if (strip == "0") strip.clear();
      add = add.substr(0, add.find('/'));
      if (add == "0") add.clear();
      affixes_[flag[0]].push_back({kind == "SFX", crosses[kind + flag], strip, add, condition});
    }
  }

  void add(const std::string& entry) {
    const std::size_t slash = entry.find('/', 1);
    const std::string word = entry.substr(0, slash);
    const std::string flags = slash == std::string::npos ? "" : entry.substr(slash + 1);
    if (flags.find_first_of(left_out_) != std::string::npos) return;
    words_.insert(word);
    for (const char flag : flags)
      for (const Affix& affix : affixes_[flag])
        if (fits(word, affix)) {
          const std::string made = with(word, affix);
          words_.insert(made);
          if (affix.is_suffix && affix.crosses) add_prefixes(made, flags);
        }
  }

  void add_prefixes(const std::string& word, const std::string& flags) {
    for (const char flag : flags)
      for (const Affix& affix : affixes_[flag])
        if (!affix.is_suffix && affix.crosses && fits(word, affix)) words_.insert(with(word, affix));
  }

  static std::string with(const std::string& word, const Affix& affix) {
    return affix.is_suffix ? word.substr(0, word.size() - affix.strip.size()) + affix.add
                           : affix.add + word.substr(affix.strip.size());
  }

  static bool fits(std::string_view word, const Affix& affix) {
    if (affix.is_suffix ? !word.ends_with(affix.strip) : !word.starts_with(affix.strip)) return false;
    const std::vector<std::string> letters = letters_of(affix.condition);
    if (word.size() < letters.size()) return false;
    const std::size_t first = affix.is_suffix ? word.size() - letters.size() : 0;
    for (std::size_t i = 0; i < letters.size(); ++i)
      if (!is_one_of(word[first + i], letters[i])) return false;
    return true;
  }

  // "[^aeiou]y" → "[^aeiou", "y".
  static std::vector<std::string> letters_of(const std::string& condition) {
    std::vector<std::string> out;
    for (std::size_t i = 0; i < condition.size(); ++i) {
      const std::size_t end = condition[i] == '[' ? condition.find(']', i) : i + 1;
      out.push_back(condition.substr(i, end - i));
      if (condition[i] == '[') i = end;
    }
    return out;
  }

  static bool is_one_of(char letter, const std::string& set) {
    if (set == ".") return true;
    if (set[0] != '[') return letter == set[0];
    const bool denied = set.size() > 1 && set[1] == '^';
    return (set.find(letter, denied ? 2 : 1) != std::string::npos) != denied;
  }

  std::map<char, std::vector<Affix>> affixes_;
  std::string left_out_;
  std::set<std::string> words_;
};
