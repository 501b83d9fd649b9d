// The matcher against a naive one that tries every form of the lexicon at every token, on seeded
// text made of the lexicon's words, other words and punctuation.
#include "match/matcher.hpp"

#include <boost/test/unit_test.hpp>

#include <algorithm>
#include <memory>
#include <random>
#include <set>
#include <string>
#include <string_view>
#include <tuple>
#include <unordered_map>
#include <vector>

#include "lexicon/build.hpp"
#include "lexicon/compiled.hpp"
#include "lexicon/load.hpp"
#include "match/index.hpp"
#include "racking/lexicon.hpp"
#include "text/tokens.hpp"

namespace {

using namespace racking;
using lexicon::CompiledLexicon;
using lexicon::NodeId;
using lexicon::WordId;
using text::Token;

// A form, as the words that lead to it.
struct Form {
  std::vector<std::string_view> words;
  NodeId node = 0;
};

struct Found {
  std::uint32_t first, last;
  NodeId node;
  bool operator==(const Found&) const = default;
};

std::ostream& operator<<(std::ostream& out, const Found& found) {
  return out << '[' << found.first << ", " << found.last << ") node " << found.node;
}

// Reads the forms off the raw tables, not through `word` and `step`.
class Reference {
 public:
  explicit Reference(const CompiledLexicon& lexicon) {
    for (const lexicon::Word& word : lexicon.words)
      if (word.id != 0) {
        spellings_[lexicon.string(word.key)] = word.id;
        if (!word.is_alias) names_[word.id] = lexicon.string(word.key);
      }
    for (const lexicon::SlotRecord& slot : lexicon.slots)
      for (const WordId word : lexicon.range(slot.words))
        slots_[names_.at(slot.word)].push_back(names_.at(word));
    for (const lexicon::SlotRecord& slot : lexicon.slots) order_[names_.at(slot.word)] = slot.word;
    order_["{*}"] = lexicon::none;
    std::unordered_map<NodeId, const lexicon::Edge*> way;
    for (const lexicon::Edge& edge : lexicon.edges)
      if (edge.to != 0) way[edge.to] = &edge;
    for (NodeId node = 1; node < lexicon.nodes.size(); ++node) {
      if (lexicon.nodes[node].senses.count == 0) continue;
      Form form;
      form.node = node;
      for (NodeId at = node; at != 0; at = way.at(at)->from)
        form.words.push_back(names_.at(way.at(at)->word));
      std::reverse(form.words.begin(), form.words.end());
      forms_.push_back(std::move(form));
    }
  }

  const std::vector<Form>& forms() const { return forms_; }

  std::vector<Found> find(const text::TokenizedText& text) const {
    std::vector<std::string_view> said;
    for (const Token& token : text.tokens) said.push_back(spelling(text, token));
    std::vector<Found> all;
    for (std::uint32_t first = 0; first < said.size();) {
      Found best = longest(said, text, first, said.size());
      // "tastes off-dry": a form leaves alone what opens a hyphenated form.
      if (best.last < said.size() && best.last - first >= 2 && text.tokens[best.last].is(Token::joined_before) &&
          longest(said, text, best.last - 1, said.size()).last > best.last)
        best = longest(said, text, first, best.last - 1);
      if (best.node != 0) all.push_back(best);
      first = best.last;
    }
    return all;
  }

 private:
  Found longest(const std::vector<std::string_view>& said, const text::TokenizedText& text,
                std::uint32_t first, std::size_t end) const {
    Found best{first, first + 1, 0};
    std::vector<WordId> best_order;
    for (const Form& form : forms_) {
      if (first + form.words.size() > end || !stands_at(form, said, text, first)) continue;
      const std::vector<WordId> order = order_of(form);
      const bool better = best.node == 0 || longer(form, best) ||
                          (form.words.size() == best.last - best.first && order < best_order);
      if (!better) continue;
      best = {first, first + static_cast<std::uint32_t>(form.words.size()), form.node};
      best_order = order;
    }
    return best;
  }
  static bool longer(const Form& form, const Found& best) {
    return form.words.size() > best.last - best.first;
  }
  // The lexicon's word for a token, empty if it has none. Accents count where a form has them, and
  // a possessive is looked past.
  std::string_view spelling(const text::TokenizedText& text, const Token& token) const {
    const std::string_view key = text.key(token);
    std::vector<std::string_view> tries;
    if (token.is(Token::accented)) tries.push_back(text.exact_key(token));
    tries.push_back(key);
    if (key.size() > 2 && key.ends_with("'s")) tries.push_back(key.substr(0, key.size() - 2));
    else if (key.size() > 2 && key.ends_with("s'")) tries.push_back(key.substr(0, key.size() - 1));
    for (const std::string_view one : tries)
      if (const auto it = spellings_.find(one); it != spellings_.end()) return names_.at(it->second);
    return {};
  }
  // How many of any word and of slots by name; then word by word: 0 for a word of its own, then
  // slots as they were declared, then any word.
  std::vector<WordId> order_of(const Form& form) const {
    std::vector<WordId> out(2);
    for (const std::string_view word : form.words) {
      out[0] += word == "{*}" ? 1u : 0u;
      out[1] += word != "{*}" && word.front() == '{' && word.find('|') == std::string_view::npos ? 1u : 0u;
    }
    for (const std::string_view word : form.words) {
      const auto slot = order_.find(word);
      out.push_back(slot == order_.end() ? 0 : slot->second);
    }
    return out;
  }
  bool stands_for(std::string_view word, std::string_view said, const Token& token) const {
    if (word == "{*}")
      return token.kind == text::TokenKind::word || token.kind == text::TokenKind::number;
    const auto slot = slots_.find(word);
    if (slot == slots_.end()) return word == said;
    return std::find(slot->second.begin(), slot->second.end(), said) != slot->second.end();
  }
  bool stands_at(const Form& form, const std::vector<std::string_view>& said,
                 const text::TokenizedText& text, std::uint32_t first) const {
    if (first + form.words.size() > said.size()) return false;
    for (std::uint32_t i = 0; i < form.words.size(); ++i) {
      const Token& token = text.tokens[first + i];
      if (!stands_for(form.words[i], said[first + i], token)) return false;
      if (i > 0 && (token.is(Token::line_before) || token.is(Token::sentence_start))) return false;
    }
    return true;
  }

  std::unordered_map<std::string_view, WordId> spellings_;
  std::unordered_map<WordId, std::string_view> names_;
  std::unordered_map<std::string_view, std::vector<std::string_view>> slots_;
  std::unordered_map<std::string_view, WordId> order_;
  std::vector<Form> forms_;
};

std::vector<Found> found_by_matcher(const text::TokenizedText& tokens, const match::MatchIndex& index) {
  std::vector<match::Mention> mentions;
  std::vector<std::uint32_t> mention_at;
  std::vector<match::KnownWord> known;
  match::find_mentions(tokens, index, known, mentions, mention_at);
  std::vector<Found> found;
  for (const match::Mention& mention : mentions)
    found.push_back({mention.first, mention.last, mention.node});
  return found;
}

// Text that is mostly forms, whole, cut short and run together.
class Generator {
 public:
  Generator(const Reference& reference, unsigned seed) : forms_(reference.forms()), random_(seed) {}

  std::string note() {
    std::string out;
    for (std::size_t pieces = 1 + pick(25); pieces > 0; --pieces) {
      add_piece(out);
      static const char* const gaps[] = {" ", " ", " ", " ", ", ", ". ", "; ", "\n", "-", "  ", " \xE2\x80\x94 ", "\n\n"};
      out += gaps[pick(std::size(gaps))];
    }
    return out;
  }

 private:
  std::size_t pick(std::size_t count) { return random_() % count; }
  void add_piece(std::string& out) {
    static const char* const others[] = {"zzyzx", "the", "13.5%", "wine's", "\xF0\x9F\x8D\xB7", "caf\xC3\xA9", "\xFF", "of", "(", "12g"};
    if (pick(5) == 0) {
      out += others[pick(std::size(others))];
      return;
    }
    const Form& form = forms_[pick(forms_.size())];
    const std::size_t words = pick(4) == 0 ? 1 + pick(form.words.size()) : form.words.size();
    for (std::size_t i = 0; i < words; ++i) {
      if (i > 0) out += pick(8) == 0 ? "-" : pick(30) == 0 ? "\n" : " ";
      std::string word(form.words[i]);
      if (pick(10) == 0 && static_cast<unsigned char>(word[0]) < 128)
        word[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(word[0])));
      out += word;
      if (pick(25) == 0) out += "'s";
    }
  }

  const std::vector<Form>& forms_;
  std::mt19937 random_;
};

// A small lexicon of cues whose forms are words, slots and any word at random, so that many forms
// stand at one place of a text and many ways lead to them.
class SlotLexicon {
 public:
  explicit SlotLexicon(unsigned seed) : random_(seed) {
    std::string toml = "[[family]]\nid = \"f\"\n";
    const std::size_t slots = 1 + pick(5);
    for (std::size_t i = 0; i < slots; ++i) {
      toml += "[[slot]]\nid = \"s" + std::to_string(i) + "\"\nwords = [";
      for (std::size_t words = 1 + pick(4); words > 0; --words) toml += '"' + word() + "\", ";
      toml += "]\n";
      if (i > 0 && pick(3) == 0) toml += "slots = [\"s" + std::to_string(pick(i)) + "\"]\n";
    }
    for (std::size_t cues = 1 + pick(12); cues > 0; --cues) {
      toml += "[[cue]]\nid = \"c" + std::to_string(cues) + "\"\nrole = \"decoy\"\nforms = [\"";
      const std::size_t size = 1 + pick(5);
      for (std::size_t i = 0; i < size; ++i) {
        if (i > 0) toml += ' ';
        const bool inner = i > 0 && i + 1 < size;
        const std::string mark = inner && pick(4) == 0 ? "?" : "";
        if (pick(2) == 0) toml += "{s" + std::to_string(pick(slots)) + mark + '}';
        else if (inner && pick(4) == 0) toml += "{*" + mark + '}';
        else toml += word();
      }
      toml += "\"]\n";
    }
    lexicon::Source source;
    std::vector<Problem> problems;
    lexicon::load_text(toml, "test.toml", source, problems);
    std::string blob = lexicon::build(source, nullptr, problems);
    for (const Problem& problem : problems) BOOST_ERROR(toml + problem.to_string());
    BOOST_TEST_REQUIRE(problems.empty());
    lexicon_ = CompiledLexicon::from_blob(std::move(blob));
  }

  const CompiledLexicon& lexicon() const { return *lexicon_; }
  std::string note() {
    static const char* const gaps[] = {" ", " ", " ", " ", " ", " ", "-", ", ", ". ", "\n"};
    std::string out;
    for (std::size_t words = 1 + pick(14); words > 0; --words) {
      out += pick(12) == 0 ? (pick(2) == 0 ? "Zzyzx" : "12") : word();
      if (pick(25) == 0) out += "'s";
      out += gaps[pick(std::size(gaps))];
    }
    return out;
  }

 private:
  std::size_t pick(std::size_t count) { return random_() % count; }
  std::string word() {
    static const char* const words[] = {"can't", "find", "i", "quite", "na\xC3\xAFve", "naive"};
    return words[pick(std::size(words))];
  }

  std::mt19937 random_;
  std::shared_ptr<const CompiledLexicon> lexicon_;
};

}  // namespace

BOOST_AUTO_TEST_SUITE(matcher_reference)

BOOST_AUTO_TEST_CASE(slots_find_what_trying_every_form_finds) {
  std::size_t through_slots = 0;
  for (unsigned seed = 1; seed <= 300; ++seed) {
    SlotLexicon random(seed);
    const match::MatchIndex index(random.lexicon());
    const Reference reference(random.lexicon());
    std::set<NodeId> slotted;
    for (const Form& form : reference.forms())
      for (const std::string_view word : form.words)
        if (word.front() == '{') slotted.insert(form.node);
    text::TokenizedText tokens;
    for (int i = 0; i < 30; ++i) {
      const std::string note = random.note();
      text::tokenize(note, tokens);
      const std::vector<Found> found = found_by_matcher(tokens, index);
      BOOST_TEST_CONTEXT("seed " << seed << ": " << note)
        BOOST_TEST(found == reference.find(tokens), boost::test_tools::per_element());
      for (const Found& one : found) through_slots += slotted.contains(one.node) ? 1u : 0u;
    }
  }
  BOOST_TEST(through_slots > 3000u);
}


BOOST_AUTO_TEST_CASE(finds_what_trying_every_form_finds) {
  const Lexicon house = Lexicon::house();
  const CompiledLexicon& lexicon = *house.compiled();
  const match::MatchIndex index(lexicon);
  const Reference reference(lexicon);
  BOOST_TEST_REQUIRE(reference.forms().size() > 1000u);
  Generator generator(reference, 20261125);
  text::TokenizedText tokens;
  std::size_t total = 0, of_many_words = 0;
  for (int i = 0; i < 150; ++i) {
    const std::string note = generator.note();
    text::tokenize(note, tokens);
    const std::vector<Found> found = found_by_matcher(tokens, index);
    const std::vector<Found> expected = reference.find(tokens);
    BOOST_TEST_CONTEXT(note) { BOOST_TEST(found == expected, boost::test_tools::per_element()); }
    total += expected.size();
    for (const Found& one : expected) of_many_words += one.last - one.first > 1 ? 1u : 0u;
  }
  // The text is worth the comparison: many mentions, many of several words.
  BOOST_TEST(total > 1500u);
  BOOST_TEST(of_many_words > 500u);
}

BOOST_AUTO_TEST_SUITE_END()
