// How long the machine takes: a look-ahead planner over a whole program.
#pragma once

#include <span>
#include <vector>

#include "parser/job.h"
#include "parser/motion.h"
#include "sim/observation.h"

namespace provecut {

struct Plan {
  std::vector<float> move_s;   // one per motion
  TimeSpent time;
};

// Trapezoidal speed along the path under per-axis rate and acceleration limits, junction-deviation or exact-stop
// corners, centripetal limits on arcs; dwells, spindle starts, stops and tool changes from the events.
Plan plan(const Program& program, const Machine& machine);

}  // namespace provecut
