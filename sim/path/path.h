// The way of the tool's tip in one move, as lines and arcs in the setup frame. Knows nothing of tools or
// hold-downs.
#pragma once

#include <array>

#include "parser/job/job.h"
#include "parser/program/motion.h"

namespace provecut {

// A straight line, or an arc or helix in any of the three planes. Where the start and end radius of an arc
// differ (coordinates are rounded on export), the radius changes evenly along the way, so that both ends are
// met.
struct PathPiece {
  SetupPoint start, end;
  bool arc = false;
  Plane plane = Plane::xy;
  SetupPoint2 centre;  // in the plane's own two axes, see Motion::centre
  double radius0 = 0, radius1 = 0;
  double angle0 = 0, sweep = 0;  // rad, positive counter-clockwise
};

struct Path {
  std::array<PathPiece, 3> pieces;
  int count = 0;
  const PathPiece* begin() const { return pieces.data(); }
  const PathPiece* end() const { return pieces.data() + count; }
};

// `work_zero`: Setup::zero_mm. With Rapids::independent a
// rapid becomes a dogleg: every axis runs at its own highest rate until it is there (the time to speed up is
// left out). A dwell gives no piece.
Path pathOf(const Motion& motion, SetupPoint work_zero, const Machine& machine);

// Point at t = 0 … 1; exact at both ends.
SetupPoint pointAt(const PathPiece& piece, double t);

// How far the piece leaves the chord between two of its points that lie `angle` (rad) apart, both followed at
// even rates: at most |P''| angle² / 8, mm. 0 for lines.
double chordError(const PathPiece& piece, double angle);

// A box around the whole piece; generous for arcs.
SetupBox boundsOf(const PathPiece& piece);

}  // namespace provecut
