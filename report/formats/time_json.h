// The times of a job as JSON, version 1 (mm and seconds).
#pragma once

#include <iosfwd>
#include <span>

#include "report/job_timing.h"

namespace provecut {

// One job: an object. Several: { "jobs": [...], "time": their sum }.
void writeTimeJson(std::span<const JobTiming> jobs, std::ostream& out);

}  // namespace provecut
