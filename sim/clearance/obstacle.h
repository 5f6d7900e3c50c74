// A hold-down as what the tool must not meet: a vertical prism that reaches down without end, in the setup
// frame.
#pragma once

#include <limits>
#include <vector>

#include "parser/job/job.h"

namespace provecut::clearance {

inline constexpr double infinity = std::numeric_limits<double>::infinity();

// An edge of the outline; of a round one the single "edge" is its centre, with the radius in
// Obstacle::radius_mm.
struct Edge {
  SetupPoint2 a, b;
};

struct Obstacle {
  std::vector<Edge> edges;
  double radius_mm = 0;  // round: > 0 and one edge without length. Else 0
  bool convex = true;
  double top_mm = 0;      // z in the setup
  SetupPoint2 low, high;  // of the footprint
};

// `stock_top_mm`: z in the setup of the stock's top face. Hold-downs reach the spoilboard, so the prism has no
// underside.
Obstacle obstacle(const HoldDown& hold_down, double stock_top_mm);

// The same obstacle shifted sideways.
Obstacle shifted(const Obstacle& o, Vec2 by);

struct SegmentPoint {
  double distance = 0;
  Vec2 away;  // unit vector from the edge to the point; (0, 0) on the edge
};
SegmentPoint fromEdge(const Edge& edge, SetupPoint2 p);

// True if the footprint covers p (for round ones too). A point on the outline may count as either.
bool covers(const Obstacle& o, SetupPoint2 p);

// Horizontal distance from p to the footprint, mm; signedDistance is negative inside (the depth to the
// outline).
double distance(const Obstacle& o, SetupPoint2 p);
double signedDistance(const Obstacle& o, SetupPoint2 p);

// True if two footprints have some area in common; outlines that only touch may count as either.
bool footprintsOverlap(const Obstacle& a, const Obstacle& b);

}  // namespace provecut::clearance
