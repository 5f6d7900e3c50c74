#include "report/formats/data/block_fingerprint.h"

#include <string_view>

#include "report/base/digest.h"

namespace provecut {

namespace {

// A line without spaces and without the number that an export gives it.
std::string wordsOf(std::string_view line) {
  std::string words;
  for (const char c : line) {
    if (c != ' ' && c != '\t' && c != '\r') words += c;
  }
  if (words.size() > 1 && (words[0] == 'N' || words[0] == 'n') && words[1] >= '0' && words[1] <= '9') {
    const std::size_t end = words.find_first_not_of("0123456789.", 1);
    words.erase(0, end);
  }
  return words;
}

std::string_view lineOf(const Facts& facts, const Finding& f, std::uint32_t number) {
  if (f.program_order < 0) return lineOfText(facts.job_text, number);
  return facts.programs[f.program_order].line(number);
}

}  // namespace

std::string BlockFingerprints::of(const Facts& facts, const Finding& f) {
  std::string text = f.rule + '\n' + f.subject + '\n';
  if (f.place.line > 0) {
    for (const std::uint32_t line : {f.place.line - 1, f.place.line, f.place.line + 1})
      text += wordsOf(lineOf(facts, f, line)) + '\n';
  }
  const std::string hash = sha256(text).substr(0, 16);
  return hash + ":" + std::to_string(++met_[hash]);
}

}  // namespace provecut
