// The places that a hold-down may have, as polygons: inside them it is clear for certain.
#pragma once

#include <span>
#include <vector>

#include "sim/placing/keep_out.h"

namespace provecut::placing {

// Outer rings run counter-clockwise, holes clockwise; even-odd over all of them.
struct FreeRegion {
  SetupPoint2 low, high;  // the places that were looked at
  double resolution_mm = 0;
  double area_mm2 = 0;
  std::vector<std::vector<SetupPoint2>> rings;
  bool contains(SetupPoint2 p) const;
};

// Places p in the box low … high at which the footprint, put there, keeps out of all stretches.
//  - At every place in the region it does.
//  - At every place in the box farther than the resolution from the region it does not, gaps narrower than 0.05 mm
//  aside.
// Squares are halved until they are wholly in or out, or smaller than the resolution; at their corners the distance is
// exact, and since it changes no faster than the place does, what lies between them is known.
FreeRegion freeRegion(std::span<const Stretch> stretches, const clearance::Obstacle& about_origin, SetupPoint2 low,
                      SetupPoint2 high, double resolution_mm);

}  // namespace provecut::placing
