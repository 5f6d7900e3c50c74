// Advice on feeds, speeds and tools, tried before it is told: what the moves take from the stock stays as it is, so
// that only the clock and the loads are worked out again.
#pragma once

#include <vector>

#include "report/facts/facts.h"
#include "report/facts/finding.h"

namespace provecut {

// True where the finding is gone once its program, or the job's tools, are changed so, and no rule about chips, power,
// bending, feeds and speeds finds anything new. False for changes of any other kind.
bool provenByLoads(const Facts& facts, const Finding& finding, const std::vector<AdvisedChange>& way);

// The first of these values that is proven as one change of a kind; absent where none is.
std::optional<double> firstProven(const Facts& facts, const Finding& finding, AdvisedChange change,
                                  const std::vector<double>& values);

}  // namespace provecut
