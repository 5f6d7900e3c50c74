// Boxes around moves, and how near a tool can come to a hold-down while its tip is in a box: what spares the
// exact clearance for moves that are far away.
#pragma once

#include "parser/program/motion.h"
#include "sim/clearance/obstacle.h"
#include "sim/path/path.h"
#include "sim/tool/tool_body.h"

namespace provecut::clearance {

// Box around the tip's path; `work_zero`: Setup::zero_mm.
SetupBox boxOf(const Motion& motion, SetupPoint work_zero);

// Lower bound of the distance between the whole tool and the obstacle while the tip is in the box.
double boxBound(const SetupBox& box, const ToolBody& body, const Obstacle& o);

}  // namespace provecut::clearance
