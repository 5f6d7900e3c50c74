#include "report/causes/program_words.h"

#include <fmt/core.h>

#include <algorithm>

#include "parser/block/block_grammar.h"

namespace provecut::causes {

namespace {

bool hasAny(const Block& block, std::span<const double> codes) {
  return std::any_of(block.words.begin(), block.words.end(), [&](const Word& word) {
    return word.letter == 'G' && word.expression.empty() &&
           std::find(codes.begin(), codes.end(), word.value) != codes.end();
  });
}

}  // namespace

std::vector<WordAt> wordsOf(const ProgramFacts& p, std::string_view letters, std::span<const double> beside_none) {
  std::vector<WordAt> found;
  Block block;
  for (std::uint32_t line = 1; line <= p.line_starts.size(); ++line) {
    readBlock(p.line(line), block);
    if (hasAny(block, beside_none)) continue;
    for (const Word& word : block.words) {
      if (letters.find(word.letter) != std::string_view::npos && word.expression.empty()) found.push_back({line, word});
    }
  }
  return found;
}

bool hasCode(const ProgramFacts& p, std::uint32_t line, double code) {
  Block block;
  readBlock(p.line(line), block);
  return hasAny(block, std::span(&code, 1));
}

bool cutsInIncrements(const ProgramFacts& p) {
  const std::vector<WordAt> codes = wordsOf(p, "G");
  return std::any_of(codes.begin(), codes.end(), [&](const WordAt& g) {
    return g.word.value == 91 && !hasCode(p, g.line, 28) && !hasCode(p, g.line, 30);
  });
}

std::uint32_t lineWithCode(const ProgramFacts& p, double code) {
  const std::vector<WordAt> codes = wordsOf(p, "G");
  const auto first = std::find_if(codes.begin(), codes.end(), [&](const WordAt& g) { return g.word.value == code; });
  return first == codes.end() ? 0 : first->line;
}

std::string lineWith(const ProgramFacts& p, std::uint32_t line, const std::vector<WordAt>& words, double value) {
  std::string text(p.line(line));
  for (auto at = words.rbegin(); at != words.rend(); ++at) {
    if (at->line == line)
      text.replace(at->word.column - 1, at->word.end_column - at->word.column,
                   fmt::format("{}{}", at->word.letter, value));
  }
  return text;
}

OtherDescription withText(const Facts& facts, std::size_t program, std::string text) {
  OtherDescription other = sameDescription(facts);
  for (std::size_t i = program; i < other.programs.size(); ++i) other.programs[i].read_again = true;
  other.programs[program].text = std::move(text);
  return other;
}

std::string withLineBefore(const ProgramFacts& p, std::uint32_t line, std::string_view added) {
  std::string text = p.text;
  const std::size_t at = line <= p.line_starts.size() ? p.line_starts[line - 1] : text.size();
  return text.insert(at, std::string(added) + "\n");
}

}  // namespace provecut::causes
