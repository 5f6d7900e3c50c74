// Advice on feeds, speeds and tools, tried before it is told: what the moves take from the stock stays as it is, so
// that only the clock and the loads are worked out again.
#pragma once

#include <vector>

#include "report/facts/facts.h"
#include "report/facts/finding.h"
#include "report/rules/rule.h"

namespace provecut {

// True where the finding is gone once its program, or the job's tools, are changed so, and no rule about chips, power,
// bending, feeds and speeds finds anything new, but for the one that the finding hid. False for changes of any other
// kind.
bool provenByLoads(const Facts& facts, const Finding& finding, const std::vector<AdvisedChange>& way,
                   const Rule* hidden = nullptr);

// Depths of passes are not tried, but worked out, and told a tenth shallower: where a pass crosses others it takes up
// to 6 % more (seen in random jobs).
inline constexpr double pass_margin = 0.9;

// The first of these values that is proven as one change of a kind; absent where none is.
std::optional<double> firstProven(const Facts& facts, const Finding& finding, AdvisedChange change,
                                  const std::vector<double>& values);

}  // namespace provecut
