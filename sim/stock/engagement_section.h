// The engagement cross-section of a cutter that moves sideways: the area of material that it sweeps per mm of way,
// looked up in the dexels along the leading half of its outline.
#pragma once

#include <span>
#include <vector>

#include "sim/stock/cut_kernel.h"

namespace provecut::cutting {

// The half of a cutter's outline that goes ahead, slice by slice from the tip up.
struct LeadingHalf {
  struct Point {
    float ahead, aside;  // mm from the axis: along the way, and to its left
  };
  struct Slice {
    float low, high;  // heights above the tip, mm
    float radius;     // halfway up
    float step;       // width across the way that one point stands for, mm
    std::vector<Point> points;
  };
  std::vector<Slice> slices;
  float radius = 0;
  bool upright = false;  // its edge begins at the tip: a wall is met all at once
};

// `cell_mm`: the smaller side of the raster's cells; points lie half of it apart across the way.
LeadingHalf leadingHalf(const CutterShape& shape, double cell_mm);
// The same of an undercut tool, from its convex pieces.
LeadingHalf leadingHalf(std::span<const BodyPiece> pieces, double cell_mm);

// The cross-section at one place of a sweep.
struct SectionSample {
  float way_mm = 0;     // along the sweep
  float weight_mm = 0;  // the stretch of way that it speaks for
  float area_mm2 = 0;   // the material in the way, seen along the way
  float height_mm = 0;  // the maximum height of it above the tip
};

// Appends the places at which a sweep is looked at, with nothing seen yet: closer together near its ends, where walls
// are reached. A chord of an arc is looked at in its middle, where its direction is the arc's, the last one also at its
// end. None where the sweep is too short to be worth it: there what it removes says as much.
void appendSamples(const Sweep& sweep, const LeadingHalf& leading, double cell_mm, bool chord, bool last_chord,
                   std::vector<SectionSample>& samples);

// Adds what rows [row_begin, row_end) hold ahead of the cutter, before it has been there.
void addSection(const DexelField& field, const LeadingHalf& leading, const Sweep& sweep, int row_begin, int row_end,
                SectionSample& sample);

}  // namespace provecut::cutting
