// Jobs named on the command line, read and planned, for `time` and `quote`.
#pragma once

#include <optional>
#include <vector>

#include "report/command_line/options.h"
#include "report/costing/job_timing.h"

namespace provecut {

// Job files, or programs alone: these run on the built-in machine "bench-screw", and the result says so.
// Absent, after saying why on standard error, when any of them cannot be used.
std::optional<std::vector<JobTiming>> timedJobs(const Options& options);

// exit_found where a program was not read whole; says so on standard error where the result is not shown as text.
int toldStatusOf(const std::vector<JobTiming>& jobs, const Options& options);

}  // namespace provecut
