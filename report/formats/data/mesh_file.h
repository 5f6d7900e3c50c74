// A surface as the files that other programs read: binary STL and binary PLY, both in mm, little-endian.
// A stream that fails is left failed: the caller looks at it afterwards.
#pragma once

#include <iosfwd>
#include <string_view>

#include "sim/surface/stock_surface.h"

namespace provecut {

// `name` goes into the header: printable ASCII, anything else as ?. Normals by the right-hand rule.
void writeStl(const surface::TriangleMesh& mesh, std::string_view name, std::ostream& out);
void writePly(const surface::TriangleMesh& mesh, std::string_view name, std::ostream& out);

}  // namespace provecut
