// The times of a job as JSON, version 1 (report/schemas/time-1.schema.json), mm and seconds.
// A stream that fails is left failed: the caller looks at it afterwards.
#pragma once

#include <iosfwd>
#include <nlohmann/json_fwd.hpp>
#include <span>

#include "report/costing/job_timing.h"
#include "sim/observed/time_spent.h"

namespace provecut {

// total_s and the parts that add up to it; with low_s and high_s where all three times are given.
nlohmann::ordered_json timeJson(const TimeSpent& time);
nlohmann::ordered_json timeJson(const TimeSpent& time, const TimeSpent& low, const TimeSpent& high);

// One job: an object. Several: { "jobs": [...], "time": their sum }. `lines`: also the seconds of each line of each
// program.
void writeTimeJson(std::span<const JobTiming> jobs, bool lines, std::ostream& out);

}  // namespace provecut
