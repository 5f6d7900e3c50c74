// The cut stock as a closed surface of triangles, for other programs to look at and to measure.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "sim/stock/dexel_field.h"

namespace provecut::surface {

struct TriangleMesh {
  std::vector<std::array<float, 3>> points;             // mm
  std::vector<std::array<std::uint32_t, 3>> triangles;  // counter-clockwise seen from outside
};

// Closed, every edge between exactly two triangles, in the dexels' own frame. Top and underside run through the mean
// heights of the cells, level areas in few triangles; walls of what is cut through stand where the cells at the edge
// say how much of them is left. The enclosed volume is that of the dexels but for what walls cut short within a cell,
// and for the hollows under overhangs, which are filled (see hollow_surface.h).
TriangleMesh stockSurface(const cutting::DexelField& field);

// True if material hangs over a hollow somewhere.
bool hasHollows(const cutting::DexelField& field);

// Enclosed volume, mm³; of a mesh that is closed.
double volume_mm3(const TriangleMesh& mesh);

}  // namespace provecut::surface
