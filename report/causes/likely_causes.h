// Why a job has so many stops: what one other description of it would explain, proven by running that one.
#pragma once

#include <vector>

#include "report/facts/load.h"
#include "report/findings/likely_cause.h"
#include "report/findings/report.h"

namespace provecut {

// At most three, the one that explains most first; none where nothing needs an explanation, or nothing explains most of
// it. Runs the job again.
std::vector<LikelyCause> likelyCauses(const Report& report, const LoadOptions& options);

}  // namespace provecut
