#pragma once

#include <vector>

#include "tests/reference/parting/cutter.h"
#include "tests/reference/parting/paths.h"
#include "tests/reference/parting/sheet.h"

namespace provecut::reference {

// What all programs of a sheet leave near a place, exact at every point.
class WoodNear {
 public:
  // Of what lies within `reach` of the place.
  WoodNear(const Sheet& sheet, PlanPoint place, double reach);
  double thickness_mm(PlanPoint p) const;

 private:
  struct Sweep {
    double lowest = 0;
    Profile profile;
    Stroke stroke;
  };
  static double lowestAt(const std::vector<Sweep>& sweeps, PlanPoint p, double height);

  double thickness_;
  std::vector<Sweep> from_above_, from_below_;  // the lowest first
};

// A stretch of a kerf, by lengths along the path of its axis, and as far to both sides.
struct KerfStretch {
  double from = 0, to = 0;
  double aside = 0;
};

struct LeastCut {
  double area_mm2 = 0;            // no such cut: negative
  std::vector<PlanPoint> points;  // from open kerf to open kerf
};

// The least wall, upright and any line in plan, that goes through all wood between the open kerf at the one end of the
// stretch and that at the other, and so parts the one side of the kerf from the other. Of all lines on a raster of the
// stretch the one over the least wood (Dijkstra's algorithm, with edges to all nodes within four cells), then pulled
// tight with the wood's exact thickness: at most a little too much, never too little.
LeastCut leastCut(const WoodNear& wood, const Path& path, const KerfStretch& stretch, double cell_mm);

}  // namespace provecut::reference
