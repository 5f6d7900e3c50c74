// Where the time of a job goes, for a terminal.
// A stream that fails is left failed: the caller looks at it afterwards.
#pragma once

#include <iosfwd>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "report/costing/job_timing.h"

namespace provecut {

std::string_view reasonText(clock::SlowReason reason);  // "corners", "short blocks" ...

// "all times: ...; ...", "low: ...": what the three times rest on, what all share first.
std::vector<std::string> assumptionLines(const clock::TimeAssumptions& assumptions);

// At most 100 columns. Several jobs: one after the other, then their sum.
void writeTimeText(std::span<const JobTiming> jobs, bool colour, std::ostream& out);

}  // namespace provecut
