// The cut blank as an OpenVDB file, for programs that work with volumes.
#pragma once

#include <string>

#include "sim/blank_surface.h"

namespace provecut {

// Writes one narrow-band level set named "blank" in mm, negative inside, voxels of `voxel_mm`. What is wrong when it
// cannot be written; empty: it was.
std::string writeVdb(const TriangleMesh& mesh, double voxel_mm, const std::string& path);

}  // namespace provecut
