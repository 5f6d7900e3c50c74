// What the interpreter had to say about the programs' text, as findings.
#pragma once

#include <cstddef>
#include <string_view>
#include <vector>

#include "report/facts/facts.h"
#include "report/facts/finding.h"

namespace provecut {

// One finding per program, rule, kind and the codes in it; `moves` counts how often it was met, and the first places
// after the first are in `related`. A problem whose id no rule bears comes under "syntax".
std::vector<Finding> problemFindings(const Facts& facts);

}  // namespace provecut
