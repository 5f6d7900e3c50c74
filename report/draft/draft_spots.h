// Where a screw could go, for a first job file.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"

namespace provecut::draft {

struct SpotList {
  std::string setup;
  std::vector<SetupPoint2> free;  // corners and middles of edges that no program of the setup comes near
};

// For a usual pan-head screw on the stock of this job, which needs no hold-downs. `programs` are in the job's order,
// their moves with the tools that the job has in the spindle.
std::vector<SpotList> freeSpots(Job job, std::span<const Program> programs);

}  // namespace provecut::draft
