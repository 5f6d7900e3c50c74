// The inner loop of the cut: one straight sweep of a tool without undercut lowers the dexels of a few rows.
// The tool's lower surface along a sloping sweep is the exact envelope: for each dexel the place on the sweep where the
// tool reaches lowest is found in closed form (flat, ball, cone) or by a short bisection (bull, any convex profile).
#pragma once

#include <vector>

#include "sim/path/sweep.h"
#include "sim/stock/contact_log.h"
#include "sim/stock/dexel_field.h"
#include "sim/tool/cutter_shape.h"

namespace provecut::cutting {

// What sweeps took: `removed_mm` is their sum, the others are the maximum of any cell that they cut. Heights in mm.
struct SweepCut {
  double removed_mm = 0;     // mean heights taken, summed over cells: times the cell's area a volume
  float axial_depth_mm = 0;  // material above the tip's own depth
  float bite_mm = 0;         // depth taken off a dexel, those apart that the rim only grazes
  float wall_mm = 0;         // height above the tip of material that the rim took only a slice of, thinner than a cell
  float doubtful_wall_mm = 0;  // the same where it may have been the floor beside a wall that only got deeper
  float broken_mm = 0;         // see MoveCut
};

// Cuts a sweep, in the field's setup frame, out of rows [row_begin, row_end) only, so that bands of rows can be cut
// side by side.
SweepCut cutRows(DexelField& field, const CutterShape& shape, const Sweep& sweep, int row_begin, int row_end);

// Notes what the dexels within `radius` of a sweep have lost since they were last asked. Rows as above.
void noteLosses(const DexelField& field, const Sweep& sweep, float radius, int row_begin, int row_end, ContactLog& log,
                std::vector<ContactLoss>& losses);

// Maximum height of material above a flat disc of `radius` whose face is at `height` above the tip, mm; 0 where there
// is none. Rows as above.
float materialAbove(const DexelField& field, const Sweep& sweep, float radius, float height, int row_begin,
                    int row_end);

}  // namespace provecut::cutting
