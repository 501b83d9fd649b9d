#include "racking/reader.hpp"

#include <algorithm>
#include <mutex>
#include <utility>
#include <vector>

#include "context/boundaries.hpp"
#include "context/clause_frames.hpp"
#include "context/lists.hpp"
#include "context/phases.hpp"
#include "context/readings.hpp"
#include "context/scopes.hpp"
#include "context/senses.hpp"
#include "context/structure.hpp"
#include "context/several_wines.hpp"
#include "context/whole_note.hpp"
#include "context/workspace.hpp"
#include "explain/again.hpp"
#include "judge/judge.hpp"
#include "lexicon/compiled.hpp"
#include "match/coordination.hpp"
#include "match/index.hpp"
#include "match/matcher.hpp"
#include "match/quantities.hpp"
#include "match/spelling.hpp"
#include "note_content.hpp"
#include "racking/error.hpp"
#include "text/tokens.hpp"

namespace racking {
inline namespace v1 {

namespace {

constexpr std::size_t largest_text = 0x7fffffff;   // spans are 32 bits wide

// Scratch memory, handed from read to read so that reading need not allocate it anew.
class WorkspacePool {
 public:
  std::unique_ptr<context::Workspace> take() const {
    const std::lock_guard lock(mutex_);
    if (free_.empty()) return std::make_unique<context::Workspace>();
    auto work = std::move(free_.back());
    free_.pop_back();
    return work;
  }
  void give_back(std::unique_ptr<context::Workspace> work) const {
    // A huge note's scratch is not kept for the small ones after it.
    constexpr std::size_t most_tokens_kept = 1u << 16;
    if (work->text.tokens.capacity() > most_tokens_kept) return;
    const std::lock_guard lock(mutex_);
    free_.push_back(std::move(work));
  }

 private:
  mutable std::mutex mutex_;
  mutable std::vector<std::unique_ptr<context::Workspace>> free_;
};

}  // namespace

struct Reader::Machine {
  Machine(Lexicon shared, ReaderOptions its)
      : lexicon(std::move(shared)), compiled(*lexicon.compiled()), options(its),
        index(compiled), spelling(index), quantities(compiled), suspects(compiled), ages(compiled), terms(compiled) {}

  Lexicon lexicon;
  const lexicon::CompiledLexicon& compiled;
  ReaderOptions options;
  match::MatchIndex index;
  match::Spelling spelling;
  match::QuantityFinder quantities;
  judge::SuspectIndex suspects;
  judge::AgeIndex ages;
  judge::TermIndex terms;
  WorkspacePool pool;
  mutable std::once_flag forms_made;       // for explanations only
  mutable std::unique_ptr<const explain::Forms> forms;
};

namespace {

void index_mentions(context::Workspace& work) {
  work.mention_at.assign(work.token_count(), 0);
  for (std::uint32_t i = 0; i < work.mentions.size(); ++i)
    for (std::uint32_t t = work.mentions[i].first; t < work.mentions[i].last; ++t)
      work.mention_at[t] = i + 1;
}

// In a note written mostly in capitals, or in title case, a capital proves nothing.
bool is_title_case(const text::TokenizedText& text) {
  return text.word_count >= 4 && text.capital_count * 10 > text.word_count * 8;
}

// A figure inside a longer word of the lexicon is none: "H2S" is no two seconds.
void drop_figures_in_words(context::Workspace& work) {
  std::erase_if(work.quantities, [&](const match::FoundQuantity& one) {
    const match::Mention* over = work.mention(one.first);
    return over && over->first < one.first && one.last <= over->last &&
           (over->kinds & lexicon::claiming_kinds) != 0;
  });
}

// What a quantity covers is no mention as well ("12 g/L dry extract" keeps "dry").
void drop_covered(context::Workspace& work) {
  const auto drop = [&](std::uint32_t first, std::uint32_t last) {
    std::erase_if(work.mentions, [&](const match::Mention& mention) {
      return mention.first < last && first < mention.last &&
             !mention.may_be(lexicon::SenseKind::cue) &&
             !mention.may_be(lexicon::SenseKind::anchor);
    });
  };
  for (const match::FoundQuantity& one : work.quantities) drop(one.first, one.last);
  for (const match::TokenRange& one : work.decoys) drop(one.first, one.last);
}

std::string hexadecimal(std::string_view bytes) {
  constexpr std::string_view digits = "0123456789abcdef";
  std::string out;
  for (const char c : bytes) {
    const auto byte = static_cast<unsigned char>(c);
    out += digits[byte >> 4];
    out += digits[byte & 15];
  }
  return out;
}

void list_ill_formed(const context::Workspace& work, Note::Content& note) {
  for (const Span span : work.text.ill_formed)
    note.problems.push_back(
        {"ill-formed-utf-8", span,
         "bytes " + hexadecimal(std::string_view(note.text).substr(span.begin, span.size())) +
             " are not UTF-8"});
}

std::string_view name_of_language(std::string_view id) {
  constexpr std::pair<std::string_view, std::string_view> names[] = {
      {"fr", "French"}, {"it", "Italian"}, {"es", "Spanish"}, {"de", "German"}, {"pt", "Portuguese"}};
  for (const auto& [its, name] : names)
    if (its == id) return name;
  return "another language than English";
}

// What the text is as a whole, said where it is not one note in English.
void say_what_it_is(const match::MatchIndex& index, context::Workspace& work, Note::Content& note) {
  const Span all{0, static_cast<std::uint32_t>(note.text.size())};
  if (note.language != "en")
    note.problems.push_back({"other-language", all,
                             "this seems to be " + std::string(name_of_language(note.language)) +
                                 "; only words that English notes share are read"});
  if (work.no_note)
    note.problems.push_back({"no-tasting-note", all, context::why_no_note(index, note.text, work)});
  context::find_wines(index, note.text, work, work.wines);
  for (std::size_t i = 0; i < work.wines.size(); ++i) {
    const std::uint32_t begin = work.text.tokens[work.wines[i]].span.begin;
    const std::uint32_t end = i + 1 < work.wines.size()
                                  ? work.text.tokens[work.wines[i + 1] - 1].span.end : all.end;
    note.problems.push_back({"several-wines", {begin, end},
                             "wine " + std::to_string(i + 1) + " of " +
                                 std::to_string(work.wines.size()) +
                                 " in this text seems to be told of here; read each by itself"});
  }
}

void read_into(const Reader::Machine& machine, context::Workspace& work, Note::Content& note) {
  const lexicon::CompiledLexicon& lexicon = machine.compiled;
  const std::string_view text = note.text;

  text::tokenize(text, work.text);
  work.title_case = is_title_case(work.text);

  match::find_mentions(work.text, machine.index, work.known, work.mentions,
                       work.mention_at, &machine.spelling, &work.respelled);
  context::gather_tells(machine.index, work);
  note.language = context::recognise_language(work);
  if (note.language != "en") {
    context::keep_shared(machine.index, note.language, work);
    index_mentions(work);
  }
  if (match::coordinate(work.text, machine.index, work.known, work.mentions, work.mention_at))
    index_mentions(work);
  if (!work.respelled.empty()) {
    match::mark_respelled(work.respelled, work.mentions);
    index_mentions(work);
  }
  machine.quantities.find(text, work.text, work.known, work.quantities, work.decoys);
  if (!work.quantities.empty() || !work.decoys.empty()) {
    drop_figures_in_words(work);
    drop_covered(work);
    index_mentions(work);
  }

  context::list_mentions(work);
  context::mark_boundaries(text, machine.index, work);
  context::paint_scopes(text, machine.index, work);
  context::weigh_clauses(machine.index, work);
  context::decide_senses(machine.index, work);
  context::attach_structure(lexicon, work);
  context::refine_phases(lexicon, work);
  work.no_note = context::set_aside_no_note(machine.index, work);
  context::write_readings(lexicon, work, note);

  judge::combine_structure(note);
  judge::infer_wine(lexicon, work, note);
  judge::judge_condition(lexicon, machine.suspects, work, note);
  judge::judge_maturity(lexicon, machine.ages, work, note, machine.options.tasting_year);
  judge::measure_coverage(lexicon, work, note);
  judge::raise_remarks(work, note);
  if (!note.quantities.empty()) judge::remark_measures(lexicon, machine.terms, work, note);
  list_ill_formed(work, note);
  say_what_it_is(machine.index, work, note);
}

}  // namespace

Reader::Reader(Lexicon lexicon, ReaderOptions options)
    : machine_(std::make_shared<const Machine>(std::move(lexicon), options)) {}
Reader::Reader(const Reader&) = default;
Reader::Reader(Reader&&) noexcept = default;
Reader& Reader::operator=(const Reader&) = default;
Reader& Reader::operator=(Reader&&) noexcept = default;
Reader::~Reader() = default;

Note Reader::read(std::string text) const {
  const std::size_t limit = std::min(machine_->options.size_limit, largest_text);
  if (text.size() > limit)
    throw Error(ErrorCode::text_too_large, "the note has " + std::to_string(text.size()) +
                                               " bytes; the limit is " + std::to_string(limit));
  // The note keeps the machine, so that it can explain itself.
  auto content = std::make_unique<Note::Content>(
      std::shared_ptr<const Lexicon>(machine_, &machine_->lexicon), *machine_);
  content->text = std::move(text);
  auto work = machine_->pool.take();
  read_into(*machine_, *work, *content);
  machine_->pool.give_back(std::move(work));
  return Note(std::move(content));
}

const Lexicon& Reader::lexicon() const noexcept { return machine_->lexicon; }

}  // namespace v1

namespace explain {

void read_again(const Reader::Machine& machine, context::Workspace& work, Note::Content& note) {
  read_into(machine, work, note);
}

const Forms& forms_of(const Reader::Machine& machine) {
  std::call_once(machine.forms_made,
                 [&] { machine.forms = std::make_unique<const Forms>(machine.compiled); });
  return *machine.forms;
}

const match::Spelling& spelling_of(const Reader::Machine& machine) { return machine.spelling; }

}  // namespace explain
}  // namespace racking
