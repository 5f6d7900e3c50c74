// Why a job has so many stops: what one other description of it would explain, proven by running that one.
#pragma once

#include "report/facts/load.h"
#include "report/findings/report.h"

namespace provecut {

// Adds at most three causes to the report, the one that explains most first; none where nothing needs an explanation,
// or nothing explains most of it. Findings that are gone under one of them then name it. Runs the job again.
void addLikelyCauses(Report& report, const LoadOptions& options);

}  // namespace provecut
