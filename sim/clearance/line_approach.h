// A straight move of one piece of the tool against one hold-down, exactly.
#pragma once

#include <optional>

#include "sim/clearance/obstacle.h"
#include "sim/tool/tool_body.h"

namespace provecut::clearance {

struct Line {
  SetupPoint start, end;  // of the tip
};

struct Nearest {
  double distance = 0;  // mm
  double t = 0;         // where on the move, 0 … 1
};

struct Depth {
  double overlap = 0;  // mm; minus infinity where the piece never comes down to the top of the hold-down
  double t = 0;
};

// The lowest distance over the move, to within 1e-9 mm. A distance above `enough` may be any lower bound
// above it.
Nearest nearest(const Line& line, const BodyPiece& piece, const Obstacle& o, double enough);

// The first moment at which the distance is at most `touch` mm.
std::optional<double> firstContact(const Line& line, const BodyPiece& piece, const Obstacle& o, double touch);

// The most of (largest radius of the piece at heights up to the top) - (signed distance of the axis to the
// footprint).
//
// A piece that stays up to `slack` mm above the top counts as standing on it.
Depth deepest(const Line& line, const BodyPiece& piece, const Obstacle& o, double slack = 0);

// Distance, and depth, with the tip standing at one point.
double gapAt(SetupPoint tip, const BodyPiece& piece, const Obstacle& o);
double depthAt(SetupPoint tip, const BodyPiece& piece, const Obstacle& o, double slack = 0);

// Horizontal distance between the line seen from above and the footprint's outline (its circle's centre where
// round).
Nearest outlineDistance(const Line& line, const Obstacle& o);

}  // namespace provecut::clearance
