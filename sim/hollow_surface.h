// The surface of a blank in which undercut bits left hollows.
#pragma once

#include "sim/blank_surface.h"

namespace provecut {

// `filled` is what blankSurface() makes of `field`; the hollows under its overhangs are taken out of it as a level set with
// voxels of `voxel_mm`, and the whole is meshed again. Closed; edges are rounded by about a voxel.
TriangleMesh surfaceWithHollows(const TriangleMesh& filled, const ColumnField& field, double voxel_mm);

}  // namespace provecut
