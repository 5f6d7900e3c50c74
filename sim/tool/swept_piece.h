// What a convex piece of a tool takes from a vertical line during one straight sweep: exactly one run of heights.
#pragma once

#include <optional>

#include "sim/path/sweep.h"
#include "sim/tool/tool_body.h"

namespace provecut {

struct HeightRange {
  double low = 0, high = 0;  // mm above the underside of the stock
};

// A sweep made ready for many lines.
struct SweepLine {
  explicit SweepLine(const Sweep& sweep);
  SetupPoint2 start;
  Vec2 along;            // unit vector; (1, 0) for a plunge
  double length_mm = 0;  // in plan
  double a_tip = 0, b_tip = 0;
};

// A vertical line seen from the sweep.
struct SeenLine {
  double way = 0, aside = 0;  // mm along from the start, mm to the side
  double distance = 0;        // from the sweep in plan
};

SeenLine seen(const SweepLine& sweep, SetupPoint2 at);

// Heights that the piece takes from the line; none where it does not get there. A convex body swept along a straight
// way is convex, so that this is one run. Closed forms; only a torus on a slope is searched, to 1e-7 mm of the way.
std::optional<HeightRange> takenFrom(const SweepLine& sweep, const SeenLine& line, const BodyPiece& piece);

}  // namespace provecut
