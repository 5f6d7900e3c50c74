#include "tests/reference/parting/check.h"

#include <cmath>
#include <cstdio>

namespace provecut::reference {

void check(Checks& checks, bool holds, const std::string& statement) {
  ++checks.made;
  if (holds) return;
  ++checks.failed;
  std::printf("FAILED: %s\n", statement.c_str());
}

void checkNear(Checks& checks, double value, double expected, double within, const std::string& statement) {
  check(checks, std::abs(value - expected) <= within,
        statement + ": " + std::to_string(value) + ", expected " + std::to_string(expected) + " within " +
            std::to_string(within));
}

}  // namespace provecut::reference
