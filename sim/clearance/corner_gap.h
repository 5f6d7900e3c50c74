// One piece of the tool against the top corner of a hold-down: the plane problem behind every clearance.
#pragma once

#include "sim/tool/tool_body.h"

namespace provecut::clearance {

// Distance between the piece and the prism, and how it grows with d and h.
struct CornerGap {
  double distance = 0;
  double by_d = 0;  // >= 0
  double by_h = 0;  // <= 0
};

// d: horizontal distance from the axis to the footprint (0 over it); h: top of the hold-down above the tip,
// mm. A height z of the piece has the horizontal gap d - r(z) and the vertical one z - h, neither below 0, so
// the distance is that of the point (d, h) from the region {h >= z0, d <= widest radius up to h}. This region
// is convex for every piece; hence the distance is convex in (d, h), grows with d and falls with h
// (geometry).
CornerGap cornerGap(const BodyPiece& piece, double d, double h);

// Largest radius of the piece at heights up to h above the tip; minus infinity where the piece begins higher.
double radiusUpTo(const BodyPiece& piece, double h);

}  // namespace provecut::clearance
