// The line being run: its text, what stands on it, and its words with their values.
#pragma once

#include <cstdint>
#include <string_view>

#include "parser/base/place.h"
#include "parser/base/quoted_text.h"
#include "parser/block/block.h"
#include "parser/interpreter/line_words.h"
#include "parser/program/problem.h"

namespace provecut::interpreter {

struct Line {
  std::string_view text;
  std::uint32_t number = 0;
  Block block;
  LineWords words;
};

// Of a word, comment, setting … of the line's block.
template <class Part>
Place placeOf(const Line& line, const Part& part) {
  return {line.number, part.column, part.end_column};
}
inline Place placeOf(const Line& line, const LineWords::Code& code) {
  return placeOf(line, *code.word);
}
inline Place wholeLine(const Line& line) {
  return {line.number, 1, static_cast<std::uint32_t>(line.text.size()) + 1};
}

// The program's own text there, safe to show.
template <class Part>
fact::Text textOf(const Line& line, const Part& part) {
  return {shownText(line.text.substr(part.column - 1, part.end_column - part.column))};
}
inline fact::Code codeOf(const Line& line, const Word& word) {
  return {textOf(line, word).text};
}
inline fact::Code codeOf(const Line& line, const LineWords::Code& code) {
  return codeOf(line, *code.word);
}

}  // namespace provecut::interpreter
