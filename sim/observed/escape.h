// The shift that takes a hold-down out of the way. Facts with numbers, no opinions: indices point into the Job and
// into each program's motions, points are in work coordinates of the setup, mm, unless said.
#pragma once

#include "parser/base/geometry.h"

namespace provecut {

// The shortest way to shift a hold-down in one of the four directions so that every program it stands in clears it.
struct Escape {
  int hold_down = 0;
  int setup = 0;
  SetupDirection2 direction;  // of length 1: left (-1, 0), right, front (0, -1), back
  double distance_mm = 0;     // checked: at this shift the clearance wanted is kept
};

}  // namespace provecut
