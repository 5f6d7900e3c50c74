// The surface of stock in which undercut bits left hollows.
#pragma once

#include "sim/surface/stock_surface.h"

namespace provecut::surface {

// `filled` is what stockSurface() makes of `field`; the hollows under its overhangs are taken out of it as a level set
// with voxels of `cell_mm`, and the whole is meshed again. Closed; edges are rounded by about a voxel.
TriangleMesh surfaceWithHollows(const TriangleMesh& filled, const cutting::DexelField& field, double cell_mm);

}  // namespace provecut::surface
