// The program reader's problems in words: one place makes every sentence, from kind and facts.
#pragma once

#include <string>
#include <string_view>

#include "parser/job/job.h"
#include "parser/program/problem.h"

namespace provecut {

// Clauses without a capital or a full stop; the help is whole sentences. Lengths are in the job's shown unit.
struct ProblemSentence {
  std::string message;  // what is wrong
  std::string assumed;  // what the reader did to go on; may be empty
  std::string help;     // what to do
};
ProblemSentence sentenceOf(const Problem& problem, const Job& job);

// What is wrong and what was assumed, in one line.
std::string problemText(const Problem& problem, const Job& job);

// What Problem::other is to the problem: "the other code".
std::string_view otherWordText(ProblemKind kind);

}  // namespace provecut
