// The times of a job as JSON, version 1 (mm and seconds).
#pragma once

#include <iosfwd>
#include <span>

#include "report/job_timing.h"

namespace provecut {

// One job: an object. Several: { "jobs": [...], "time": their sum }. `lines`: also the seconds of each line of each program.
void writeTimeJson(std::span<const JobTiming> jobs, bool lines, std::ostream& out);

}  // namespace provecut
