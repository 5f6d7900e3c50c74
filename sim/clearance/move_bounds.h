// Boxes around moves, and how near a tool can come to a hold-down while its tip is in a box: what spares the
// exact clearance for moves that are far away.
#pragma once

#include "parser/program/motion.h"
#include "sim/clearance/obstacle.h"
#include "sim/path/path.h"
#include "sim/tool/tool_body.h"

namespace provecut::clearance {

// Box around the tip's path in the lying frame; `shift`: the setup's work zero there.
Box3 boxOf(const Motion& motion, Vec3 shift);

// Lower bound of the distance between the whole tool and the obstacle while the tip is in the box.
double boxBound(const Box3& box, const ToolBody& body, const Obstacle& o);

}  // namespace provecut::clearance
