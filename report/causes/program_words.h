// The words of a program as they are written, and the text with some of them changed.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "parser/block/block.h"
#include "report/causes/candidate.h"
#include "report/facts/facts.h"

namespace provecut::causes {

struct WordAt {
  std::uint32_t line = 0;
  Word word;
};

// All plain numbers of the letters, but for those on lines with one of the G codes.
std::vector<WordAt> wordsOf(const ProgramFacts& p, std::string_view letters, std::span<const double> beside_none = {});

// True where the line has the G code.
bool hasCode(const ProgramFacts& p, std::uint32_t line, double code);

// True where G91 is more than the way home (G28 G91 Z0).
bool cutsInIncrements(const ProgramFacts& p);

// The first line with the G code; 0: none.
std::uint32_t lineWithCode(const ProgramFacts& p, double code);

// The line with another number in each of these words of it, which are in order.
std::string lineWith(const ProgramFacts& p, std::uint32_t line, const std::vector<WordAt>& words, double value);

// The program with another text.
OtherDescription withText(const Facts& facts, std::size_t program, std::string text);

// The text with a line put in before another one.
std::string withLineBefore(const ProgramFacts& p, std::uint32_t line, std::string_view added);

}  // namespace provecut::causes
