// What the interpreter had to say about the programs' text, as findings.
#pragma once

#include <vector>

#include "report/facts.h"
#include "report/finding.h"

namespace provecut {

// One finding per program, rule and message; `moves` counts how often it was met, and the first places after the first
// stand in `related`. A problem whose id no rule bears comes under "syntax". Columns are in code points.
std::vector<Finding> problemFindings(const Facts& facts);

}  // namespace provecut
