// racking_bench GENERATED DEMO [options of Google Benchmark]: what reading costs beside what ICU's
// word iteration alone costs on the same notes.
#include <benchmark/benchmark.h>
#include <unicode/ubrk.h>
#include <unicode/utext.h>

#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "racking/racking.hpp"

namespace {

using Notes = std::vector<std::string>;

Notes read_notes(const char* path) {
  std::ifstream in(path, std::ios::binary);
  Notes notes;
  for (std::string note; std::getline(in, note, '\0');) notes.push_back(note);
  if (!notes.empty()) return notes;
  std::fprintf(stderr, "%s holds no notes\n", path);
  std::exit(1);
}

std::int64_t bytes_of(const Notes& notes) {
  std::int64_t bytes = 0;
  for (const std::string& note : notes) bytes += static_cast<std::int64_t>(note.size());
  return bytes;
}

void finish(benchmark::State& state, const Notes& notes) {
  state.SetBytesProcessed(state.iterations() * bytes_of(notes));
  state.SetItemsProcessed(state.iterations() * static_cast<std::int64_t>(notes.size()));
}

// The yardstick: every word break of every note, the iterator opened once.
void icu_words(benchmark::State& state, const Notes& notes) {
  UErrorCode status = U_ZERO_ERROR;
  UBreakIterator* breaks = ubrk_open(UBRK_WORD, "en", nullptr, 0, &status);
  UText text = UTEXT_INITIALIZER;
  for (auto _ : state) {
    std::int64_t count = 0;
    for (const std::string& note : notes) {
      utext_openUTF8(&text, note.data(), static_cast<std::int64_t>(note.size()), &status);
      ubrk_setUText(breaks, &text, &status);
      while (ubrk_next(breaks) != UBRK_DONE) ++count;
    }
    benchmark::DoNotOptimize(count);
  }
  if (U_FAILURE(status) != 0) state.SkipWithError(u_errorName(status));
  utext_close(&text);
  ubrk_close(breaks);
  finish(state, notes);
}

void to_note(benchmark::State& state, const Notes& notes) {
  const racking::Reader reader;
  for (auto _ : state)
    for (const std::string& text : notes) {
      const racking::Note note = reader.read(text);
      benchmark::DoNotOptimize(note.aromas().size());
    }
  finish(state, notes);
}

void to_json(benchmark::State& state, const Notes& notes, racking::JsonOptions options) {
  const racking::Reader reader;
  std::string out;
  std::size_t written = 0;
  for (auto _ : state) {
    written = 0;
    for (const std::string& text : notes) {
      out.clear();
      reader.read(text).append_json(out, options);
      written += out.size();
      benchmark::DoNotOptimize(out.data());
    }
  }
  finish(state, notes);
  state.counters["json_bytes_a_note"] =
      static_cast<double>(written) / static_cast<double>(notes.size());
}

void lexicon_from_toml(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(racking::Lexicon::load(RACKING_LEXICON_DIR));
}

void register_all(const std::string& name, const Notes& notes) {
  using Depth = racking::JsonOptions::Depth;
  racking::JsonOptions plain, full, tidy;
  plain.depth = Depth::plain;
  full.tidy = false;
  benchmark::RegisterBenchmark((name + "/icu").c_str(), icu_words, notes);
  benchmark::RegisterBenchmark((name + "/note").c_str(), to_note, notes);
  benchmark::RegisterBenchmark((name + "/plain").c_str(), to_json, notes, plain);
  benchmark::RegisterBenchmark((name + "/full").c_str(), to_json, notes, full);
  benchmark::RegisterBenchmark((name + "/tidy").c_str(), to_json, notes, tidy);
}

}  // namespace

int main(int count, char** arguments) {
  benchmark::Initialize(&count, arguments);
  if (count != 3) {
    std::fputs("usage: racking_bench GENERATED DEMO [--benchmark_…]\n", stderr);
    return 2;
  }
  register_all("generated", read_notes(arguments[1]));
  register_all("demo", read_notes(arguments[2]));
  benchmark::RegisterBenchmark("lexicon_from_toml", lexicon_from_toml)
      ->Unit(benchmark::kMillisecond);
  benchmark::RunSpecifiedBenchmarks();
  return 0;
}
