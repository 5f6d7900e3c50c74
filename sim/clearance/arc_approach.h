// An arc or helix, in any plane, of one piece of the tool against one hold-down: to within 1e-7 mm, by bounds
// that are proven for whole stretches of the arc.
#pragma once

#include <optional>

#include "sim/clearance/line_approach.h"
#include "sim/path/path.h"

namespace provecut::clearance {

// As the functions of the same names for lines. A distance that may lie on either side of `touch` counts as
// touching.
Nearest nearestOnArc(const PathPiece& arc, const BodyPiece& piece, const Obstacle& o, double enough, double touch);
std::optional<double> firstContactOnArc(const PathPiece& arc, const BodyPiece& piece, const Obstacle& o, double touch);
// The depth is exact to 1e-7 mm but for arcs that run inside an outline that is not convex, where the work is
// bounded: there it is a depth that is met, short of the deepest by what 4000 looks leave.
Depth deepestOnArc(const PathPiece& arc, const BodyPiece& piece, const Obstacle& o, double slack = 0);

}  // namespace provecut::clearance
