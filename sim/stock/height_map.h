// The stock's two faces at one moment as plain rasters, coarse enough to be handed on: for pictures, not for checks.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "sim/stock/dexel_field.h"

namespace provecut::cutting {

// Heights in mm above the stock's underside, in the setup frame; row by row, no padding. Where nothing is
// left of a dexel its top equals its floor.
struct HeightMap {
  int nx = 0, ny = 0;
  double cell_x_mm = 0, cell_y_mm = 0;
  std::vector<float> top, floor;

  // Where material hangs over a hollow: all segments of the cell's middle dexel, from below. Cells in their order.
  struct Overhang {
    std::uint32_t cell = 0;
    std::vector<DexelSegment> segments;
  };
  std::vector<Overhang> overhangs;
};

// At most about `max_cells` cells. A coarser cell holds the mean of its dexels, or nothing where most of them hold
// nothing.
HeightMap heightMap(const DexelField& field, std::size_t max_cells);

}  // namespace provecut::cutting
