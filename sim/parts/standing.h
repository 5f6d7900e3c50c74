// A small part of the stock, cut once more with finer cells, and what stands in it measured.
#pragma once

#include <optional>
#include <vector>

#include "sim/pieces/pieces.h"
#include "sim/pieces/program_cut.h"

namespace provecut::pieces {

struct CloseUp {
  SetupPoint2 low;            // where the field's origin lies, setup frame
  cutting::DexelField field;  // as the program leaves it
  bool at_edge[4] = {};       // its left, right, front and back are the stock's
};

// A square of `reach_mm` to each side of a place, cut off at the stock's edges. The cells are larger than wanted, up to
// half those of the raster, where many motions would take long; where tools with an undercut come, the raster itself is
// enlarged.
CloseUp closeUp(const ProgramCut& cut, SetupPoint2 centre, double reach_mm, double wanted_mm);

// The highest cell of the close-up within `half_x` and `half_y` of a place, the nearest of equal ones.
cutting::Cell highestNear(const CloseUp& near, SetupPoint2 place, double half_x_mm, double half_y_mm);

// The material that hangs together about a cell and is higher than a level.
struct Standing {
  Mask cells;               // of the close-up
  bool ends = true;         // it does not reach the close-up's sides, but for those of the stock
  double width_mm = 0;      // the least between two parallel lines in plan that hold it; where it ends
  double thickness_mm = 0;  // the least way through it in plan, by its middle near the cell
  Vec2 middle, across;      // of that way, from the close-up's origin; its direction, of length 1
  Vec2 centre;              // of all of it, where that lies in it and it ends; else the middle
  float foot = 0;           // the highest that lies at its two sides there, mm
  float foot_around = 0;    // the highest that lies beside it anywhere; where it ends
};

Standing standingAt(const CloseUp& near, cutting::Cell seed, float level);

// How long it is in plan, from its middle both ways as far as it is no thinner than `thinnest_mm` and thinner than
// `thickest_mm`; not followed much beyond `enough_mm`.
double lengthOf(const CloseUp& near, const Standing& standing, double thinnest_mm, double thickest_mm,
                double enough_mm);

// Places just beyond its sides, seen from a place in it in `ways` directions, the first of them across it.
struct Side {
  SetupPoint2 at;
  Vec2 outwards;  // of length 1
};

std::vector<Side> sidesOf(const CloseUp& near, const Standing& standing, Vec2 from, int ways);

}  // namespace provecut::pieces
