// Outlines out of values at the corners of triangles. Knows nothing of what the values mean.
#pragma once

#include <array>
#include <span>
#include <vector>

#include "parser/base/geometry.h"

namespace provecut::placing {

struct Segment {
  SetupPoint2 from, to;
};

struct LevelPoint {
  SetupPoint2 at;
  double value = 0;  // 0 and above is inside
};

// Adds the outline's stretch through a triangle (corners counter-clockwise), the inside on its left, where values
// change evenly. Two triangles with a common edge meet it at the very same point.
void traceTriangle(const std::array<LevelPoint, 3>& triangle, std::vector<Segment>& out);

// Adds the part of an edge that lies inside, from a to b.
void traceEdge(const LevelPoint& a, const LevelPoint& b, std::vector<Segment>& out);

// Segments put together end to end into closed rings, straight runs drawn as one. Every point where one ends another
// begins.
std::vector<std::vector<SetupPoint2>> ringsOf(std::span<const Segment> segments);

// The ring with corners left out that lie within `tolerance` of what remains. A ring that would lose most of its area
// is kept as it is.
std::vector<SetupPoint2> simplified(const std::vector<SetupPoint2>& ring, double tolerance);

}  // namespace provecut::placing
