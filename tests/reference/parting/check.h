#pragma once

#include <string>

namespace provecut::reference {

// Counts and prints what does not hold.
struct Checks {
  int made = 0;
  int failed = 0;
};

void check(Checks& checks, bool holds, const std::string& statement);
void checkNear(Checks& checks, double value, double expected, double within, const std::string& statement);

// Hand-made sheets whose pieces, and the moves that part them, follow from closed forms.
void checkCases(Checks& checks);

}  // namespace provecut::reference
