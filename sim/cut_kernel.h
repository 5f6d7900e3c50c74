// The inner loop of the cut: one straight sweep of a tool without undercut lowers the columns of a few rows.
// The tool's lower surface along a sloping sweep is the exact envelope: for each column the place on the sweep where the
// tool reaches lowest is found in closed form (flat, ball, cone) or by a short bisection (bull, any convex profile).
#pragma once

#include <cstdint>
#include <vector>

#include "sim/column_field.h"
#include "sim/tool_body.h"

namespace provecut {

enum class Underside : std::uint8_t { flat, ball, cone, bull, profile };

// The cutter's lower surface as a function of the distance from the axis, tip at 0.
struct CutterShape {
  Underside underside = Underside::flat;
  float radius = 0;         // largest
  float rim = 0;            // height of the lower surface at the largest radius
  float flat_radius = 0;    // cone: of its flat tip; bull: of its flat bottom
  float arc_radius = 0;     // ball, bull
  float rise = 0;           // cone: height gained per mm of radius
  std::vector<float> table; // profile: heights at even steps of the radius, convex

  float surface(float distance) const;
  // Radius of the cutter at `height` above the tip.
  float radiusAt(float height) const;
};

CutterShape cutterShape(const Tool& tool, const ToolBody& body);

// One straight piece of a tool's path; plan positions in mm of the lying frame, heights above the blank's underside.
struct Sweep {
  double ax = 0, ay = 0, bx = 0, by = 0;
  float a_tip = 0, b_tip = 0;
  std::uint32_t motion = 0;
};

// What sweeps took, summed or the worst.
struct SweepCut {
  double removed_mm = 0;    // sum of mean heights taken; times the cell's area a volume
  float axial_mm = 0;
  float bite_mm = 0;
  float wall_mm = 0;        // greatest height above the tip of material of which the rim took a slice thinner than a cell
  float broken_mm = 0;      // see MoveCut
};

// Rows [row_begin, row_end) of the field only, so that bands of rows can be cut side by side.
SweepCut cutRows(ColumnField& field, const CutterShape& shape, const Sweep& sweep, int row_begin, int row_end);

// Greatest height of material above a flat disc of `radius` whose face is at `height` above the tip; 0 where none.
float materialAbove(const ColumnField& field, const Sweep& sweep, float radius, float height, int row_begin, int row_end);

}  // namespace provecut
