// How hard each feed move works its cutter: engagement, material and the speed that the clock says is reached, put
// through the formulas of cutting_load.h.
#pragma once

#include <span>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/clock/clock.h"
#include "sim/observed/load.h"
#include "sim/observed/move_cut.h"
#include "sim/stock/cut.h"

namespace provecut {

// One per motion; the same for any number of threads. `plan` holds the moves' times and highest speeds.
std::vector<MoveLoad> moveLoads(const Job& job, const Cutters& cutters, std::span<const Motion> motions,
                                std::span<const MoveCut> cuts, const clock::Plan& plan);

}  // namespace provecut
