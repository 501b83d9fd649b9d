// lexicon-compiler FOLDER OUT.blob OUT.cpp
// Compiles the TOML files below FOLDER, proves that the blob reads back and that every
// example reads as it is marked, and writes the source file that embeds it.
#include <cstdio>
#include <exception>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "lexicon/build.hpp"
#include "lexicon/load.hpp"
#include "racking/reader.hpp"

namespace {

using racking::Problem;
namespace lexicon = racking::lexicon;

bool write(const std::string& path, const std::string& bytes) {
  std::ofstream out(path, std::ios::binary | std::ios::trunc);
  out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  out.close();
  if (!out) std::fprintf(stderr, "%s: cannot be written\n", path.c_str());
  return bool(out);
}

bool reads_back(const std::string& path, const std::string& blob) {
  std::ifstream in(path, std::ios::binary);
  const std::string again{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
  const auto compiled = lexicon::CompiledLexicon::from_blob(again);
  if (compiled->blob == blob) return true;
  std::fprintf(stderr, "%s: does not read back as it was written\n", path.c_str());
  return false;
}

// `.incbin` rather than a list of numbers: a megabyte then compiles at once.
std::string embedding(const std::string& blob_path) {
  const std::string path = std::filesystem::absolute(blob_path).generic_string();
  std::string quoted;
  for (const char c : path) {
    if (c == '"' || c == '\\') quoted += '\\';
    quoted += c;
  }
  return "// Written by lexicon-compiler; do not edit.\n"
         "#include <cstddef>\n#include <string_view>\n\n"
         "__asm__(R\"asm(\n"
         "  .pushsection .rodata, \"a\"\n"
         "  .balign 64\n"
         "  .globl racking_house_blob_begin\n"
         "  .hidden racking_house_blob_begin\n"
         "  .globl racking_house_blob_end\n"
         "  .hidden racking_house_blob_end\n"
         "racking_house_blob_begin:\n"
         "  .incbin \"" + quoted + "\"\n"
         "racking_house_blob_end:\n"
         "  .popsection\n"
         ")asm\");\n\n"
         "extern \"C\" __attribute__((visibility(\"hidden\"))) const char racking_house_blob_begin[];\n"
         "extern \"C\" __attribute__((visibility(\"hidden\"))) const char racking_house_blob_end[];\n\n"
         "namespace racking::lexicon {\n\n"
         "std::string_view house_blob() noexcept;\n"
         "std::string_view house_blob() noexcept {\n"
         "  return {racking_house_blob_begin,\n"
         "          static_cast<std::size_t>(racking_house_blob_end - racking_house_blob_begin)};\n"
         "}\n\n"
         "}  // namespace racking::lexicon\n";
}

void print(const std::vector<Problem>& problems) {
  for (const Problem& problem : problems) std::fprintf(stderr, "%s\n", problem.to_string().c_str());
}

bool examples_read_well(const std::string& folder, const std::string& blob) {
  const racking::Reader reader(racking::Lexicon::from_blob(blob));
  const std::vector<Problem> problems = racking::check_examples(folder, reader);
  print(problems);
  return problems.empty();
}

int compile(const std::string& folder, const std::string& blob_path, const std::string& cpp_path) {
  std::vector<Problem> problems;
  const lexicon::Source source = lexicon::load_folder(folder, problems);
  const std::string blob = lexicon::build(source, nullptr, problems);
  print(problems);
  if (!problems.empty()) return 1;
  if (!write(blob_path, blob) || !reads_back(blob_path, blob)) return 1;
  if (!examples_read_well(folder, blob)) return 1;
  return write(cpp_path, embedding(blob_path)) ? 0 : 1;
}

}  // namespace

int main(int count, char** arguments) {
  if (count != 4) {
    std::fputs("usage: lexicon-compiler FOLDER OUT.blob OUT.cpp\n", stderr);
    return 2;
  }
  try {
    return compile(arguments[1], arguments[2], arguments[3]);
  } catch (const std::exception& error) {
    std::fprintf(stderr, "%s\n", error.what());
    return 1;
  }
}
