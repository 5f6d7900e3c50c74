// The inner loop of the cut: one straight sweep of a tool without undercut lowers the dexels of a few rows.
// The tool's lower surface along a sloping sweep is the exact envelope: for each dexel the place on the sweep where the
// tool reaches lowest is found in closed form (flat, ball, cone) or by a short bisection (bull, any convex profile).
#pragma once

#include <cstdint>
#include "sim/path/sweep.h"
#include "sim/stock/dexel_field.h"
#include "sim/tool/cutter_shape.h"

namespace provecut::cutting {

// What sweeps took, summed or the worst.
struct SweepCut {
  double removed_mm = 0;  // sum of mean heights taken; times the cell's area a volume
  float axial_depth_mm = 0;
  float bite_mm = 0;
  float wall_mm = 0;    // maxOf height above the tip of material of which the rim took a slice thinner than a cell
  float broken_mm = 0;  // see MoveCut
};

// Rows [row_begin, row_end) of the field only, so that bands of rows can be cut side by side.
SweepCut cutRows(DexelField& field, const CutterShape& shape, const Sweep& sweep, int row_begin, int row_end);

// Max height of material above a flat disc of `radius` whose face is at `height` above the tip; 0 where none.
float materialAbove(const DexelField& field, const Sweep& sweep, float radius, float height, int row_begin,
                    int row_end);

}  // namespace provecut::cutting
