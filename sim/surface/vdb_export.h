// The cut stock as an OpenVDB file, for programs that work with volumes.
#pragma once

#include <iosfwd>

#include "sim/surface/stock_grid.h"
#include "sim/surface/stock_surface.h"

namespace provecut::surface {

// Writes two grids in mm: a narrow-band level set named "stock", negative inside, voxels of `cell_mm`, smooth; and a
// mask named "material" whose voxels are solid, with what hangs over a hollow. The stream must be one of a file: the
// format goes back to fill in where its parts are. It is left failed when it cannot be written to.
void writeVdb(const TriangleMesh& mesh, double cell_mm, const StockGrid& material, std::ostream& out);

}  // namespace provecut::surface
