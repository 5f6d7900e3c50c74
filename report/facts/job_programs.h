// The programs of a job as the simulation takes them.
#pragma once

#include "report/facts/facts.h"
#include "sim/path/programs.h"

namespace provecut {

// Points into `facts`.
inline Programs programsOf(const Facts& facts) {
  Programs programs;
  for (const ProgramFacts& p : facts.programs) programs.add(p.program);
  return programs;
}

}  // namespace provecut
