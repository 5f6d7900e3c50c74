#include "sim/path/motion_extent.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "parser/base/parallel_frames.h"
#include "sim/path/path.h"

namespace provecut {

namespace {

// Where the arc lies outermost at or near `turn` (rad from its start), which points along an axis: later than that
// where the radius grows.
double outermostNear(const PathPiece& arc, double turn, double swept) {
  const double growth = (arc.radius1 - arc.radius0) / swept;
  return turn + std::atan2(growth, arc.radius0 + growth * turn);
}

// Calls `take` with the points of the arc that lie outermost in its plane's two axes, where it passes them: on its
// first and its last pass, as the radius changes evenly in between.
template <typename Take>
void forOutermost(const Motion& arc, Take take) {
  static const Machine any_machine;  // arcs do not depend on it
  constexpr SetupPoint zero;         // nor does where they bulge on where the work zero lies
  const PathPiece piece = pathOf(arc, zero, any_machine).pieces[0];
  if (!piece.arc) return;
  constexpr double quarter = 0.5 * std::numbers::pi, whole = 2 * std::numbers::pi;
  const double swept = std::fabs(piece.sweep);
  for (int axis = 0; axis < 4; ++axis) {
    double turn = axis * quarter - piece.angle0;
    if (piece.sweep < 0) turn = -turn;
    turn = std::fmod(turn, whole);
    if (turn < 0) turn += whole;
    for (const double pass : {turn, turn + whole * std::floor((swept - turn) / whole)}) {
      const double at = outermostNear(piece, pass, swept);
      if (at > 0 && at < swept) take(setupToWork(zero, pointAt(piece, at / swept)));
    }
  }
}

}  // namespace

WorkBox motionExtent(const Motion& motion) {
  WorkBox box;
  box.add(motion.start);
  box.add(motion.end);
  if (isArc(motion)) forOutermost(motion, [&](WorkPoint p) { box.add(p); });
  return box;
}

WorkPoint lowestPoint(const Motion& motion) {
  WorkPoint lowest = motion.end.z < motion.start.z ? motion.end : motion.start;
  if (!isArc(motion) || motion.plane == Plane::xy) return lowest;
  forOutermost(motion, [&](WorkPoint p) {
    if (p.z < lowest.z) lowest = p;
  });
  return lowest;
}

double lowestZ(const Motion& motion) {
  return lowestPoint(motion).z;
}

}  // namespace provecut
