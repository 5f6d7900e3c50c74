// The tool numbers that a program calls, against those that its comments describe.
#pragma once

#include <optional>

#include "parser/program/motion.h"

namespace provecut {

struct NumberMismatch {
  int called = 0;     // by the program, and no comment mentions it
  int described = 0;  // by a comment, and the program never calls it
  Place call, comment;
};

// Absent where the comments mention every number called, or describe none that is not. Numbers from 100 on are let be:
// they may hold an offset too (T101).
std::optional<NumberMismatch> numberMismatch(const Program& program);

}  // namespace provecut
