// What a StockGrid holds; only for the files that work with its library.
#pragma once

#include <openvdb/openvdb.h>

#include "sim/surface/stock_grid.h"

namespace provecut::surface {

struct StockGrid::Grid {
  openvdb::MaskTree::Ptr tree = std::make_shared<openvdb::MaskTree>();
  openvdb::Coord size;
  Vec3 cell_mm;
};

}  // namespace provecut::surface
