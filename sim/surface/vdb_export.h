// The cut stock as an OpenVDB file, for programs that work with volumes.
#pragma once

#include <string>

#include "sim/surface/stock_grid.h"
#include "sim/surface/stock_surface.h"

namespace provecut::surface {

// Writes two grids in mm: a narrow-band level set named "stock", negative inside, voxels of `cell_mm`, smooth; and a
// mask named "material" whose voxels are solid, with what hangs over a hollow. What is wrong when it cannot be written;
// empty: it was.
std::string writeVdb(const TriangleMesh& mesh, double cell_mm, const StockGrid& material, const std::string& path);

}  // namespace provecut::surface
