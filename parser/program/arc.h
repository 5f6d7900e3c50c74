// Arcs in a plane: centre from a radius, sweep, length. Knows nothing of programs.
#pragma once

#include <optional>

#include "parser/program/motion.h"

namespace provecut {

// Angle that an arc turns through, radians, always positive: (0, 2π] for one turn, 2π more for each further one.
// End = start, to a millionth of a millimetre, is one full turn.
double sweepOf(const Motion& arc);

// Length along an arc or helix, mm. Where the radii at the ends differ, their mean is taken as the radius.
double arcLength(const Motion& arc);

// Of any move.
inline double pathLength(const Motion& m) {
  return isArc(m) ? arcLength(m) : length(m.end - m.start);
}

// Centre of the arc of `radius` from `start` to `end`: the short way round for a positive one, the long way for a
// negative (NISTIR 6556 3.5.3.1). `shortfall` is how much |radius| falls short of half the chord; the centre is then
// its middle. Absent when the ends coincide. Points in the two axes of the plane.
struct RadiusCentre {
  WorkPoint2 centre;
  double shortfall = 0;
};
std::optional<RadiusCentre> centreFromRadius(WorkPoint2 start, WorkPoint2 end, double radius, bool clockwise);

}  // namespace provecut
