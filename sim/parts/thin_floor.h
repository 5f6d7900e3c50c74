// The thinnest floors and webs that a program left.
#pragma once

#include <vector>

#include "sim/pieces/pieces.h"

namespace provecut::pieces {

struct FloorSearch {
  const cutting::DexelField& before;  // as the program found it
  const cutting::DexelField& after;
  const Mask& webs;         // tabs and skins that hold a part: not floors. May be empty
  double limit_mm = 0;      // thinner than this, over the tolerance, is reported
  double tolerance_mm = 0;  // of the stock's thickness
  // How far a surface moves when the stock is 1 mm thicker than said: 1 where it was cut from a zero on the far face
  // of the stock, 0 where its distance from the underside in this setup stays the same.
  int top_moves = 0, floor_moves = 0;
};

// A floor as it was found: ThinFloor is what is told of it.
struct FoundFloor {
  SetupPoint at;           // on the cut surface
  cutting::Cell cell = 0;  // its thinnest dexel
  double thickness_mm = 0, worst_mm = 0, area_mm2 = 0;
  int moves_with_stock = 0;
};

// A floor is a place that no thinner place and no opening lies beside: the sloping edge that a drill's point or a vee
// leaves round an opening is none. One entry per connected thin region, thinnest first.
std::vector<FoundFloor> thinFloors(const FloorSearch& search);

}  // namespace provecut::pieces
