// The box that the tip fills along one move, arcs by their true bulge. Knows nothing of the tool or the stock.
#pragma once

#include "parser/base/geometry.h"
#include "parser/program/motion.h"

namespace provecut {

// Exact for lines and arcs in all three planes, helices too. Where an arc's radius differs between its two ends
// (rounded centres) it is taken to change evenly over the sweep. A dwell fills the point where it stands.
WorkBox motionExtent(const Motion& motion);

// Where the tip is lowest along the move (the first such point), and that height.
WorkPoint lowestPoint(const Motion& motion);
double lowestZ(const Motion& motion);

}  // namespace provecut
