// Where a hold-down that is in the way could stand instead. Facts with numbers, no opinions: indices point into the
// Job, points are in the setup's frame, mm.
#pragma once

#include "parser/base/geometry.h"

namespace provecut {

struct ClearSpot {
  int hold_down = 0;
  int setup = 0;
  SetupPoint2 at;  // its centre there: clear of every program that it is fitted for
};

}  // namespace provecut
