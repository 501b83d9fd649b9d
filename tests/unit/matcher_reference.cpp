// The matcher against a naive one that tries every form of the lexicon at every token, on seeded
// text made of the lexicon's words, other words and punctuation.
#include "match/matcher.hpp"

#include <boost/test/unit_test.hpp>

#include <algorithm>
#include <random>
#include <string>
#include <string_view>
#include <tuple>
#include <unordered_map>
#include <vector>

#include "lexicon/compiled.hpp"
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
      Found best{first, first + 1, 0};
      for (const Form& form : forms_)
        if (stands_at(form, said, text, first) && (best.node == 0 || longer(form, best)))
          best = {first, first + static_cast<std::uint32_t>(form.words.size()), form.node};
      if (best.node != 0) all.push_back(best);
      first = best.last;
    }
    return all;
  }

 private:
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
  static bool stands_at(const Form& form, const std::vector<std::string_view>& said,
                        const text::TokenizedText& text, std::uint32_t first) {
    if (first + form.words.size() > said.size()) return false;
    for (std::uint32_t i = 0; i < form.words.size(); ++i) {
      if (said[first + i] != form.words[i]) return false;
      const Token& token = text.tokens[first + i];
      if (i > 0 && (token.is(Token::line_before) || token.is(Token::sentence_start))) return false;
    }
    return true;
  }

  std::unordered_map<std::string_view, WordId> spellings_;
  std::unordered_map<WordId, std::string_view> names_;
  std::vector<Form> forms_;
};

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

}  // namespace

BOOST_AUTO_TEST_SUITE(matcher_reference)

BOOST_AUTO_TEST_CASE(finds_what_trying_every_form_finds) {
  const Lexicon house = Lexicon::house();
  const CompiledLexicon& lexicon = *house.compiled();
  const match::MatchIndex index(lexicon);
  const Reference reference(lexicon);
  BOOST_TEST_REQUIRE(reference.forms().size() > 1000u);
  Generator generator(reference, 20261125);
  text::TokenizedText tokens;
  std::vector<match::Mention> mentions;
    std::vector<std::uint32_t> mention_at;
  std::size_t total = 0, of_many_words = 0;
  for (int i = 0; i < 150; ++i) {
    const std::string note = generator.note();
    text::tokenize(note, tokens);
    std::vector<match::KnownWord> known;
    match::find_mentions(tokens, index, known, mentions, mention_at);
    std::vector<Found> found;
    for (const match::Mention& mention : mentions)
      found.push_back({mention.first, mention.last, mention.node});
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
