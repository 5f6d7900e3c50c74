// A broken invariant is a defect in provecut, never the user's mistake: stop with place and condition in every build.
#pragma once

#include <cstdio>
#include <cstdlib>

namespace provecut {

[[noreturn]] inline void stopForDefect(const char* condition, const char* file, int line) {
  std::fprintf(stderr, "provecut: this is a defect in provecut: %s does not hold (%s:%d)\n", condition, file, line);
  std::_Exit(3);
}

}  // namespace provecut

#define CHECK(condition) ((condition) ? void(0) : ::provecut::stopForDefect(#condition, __FILE__, __LINE__))
