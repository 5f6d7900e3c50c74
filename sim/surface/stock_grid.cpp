#include "sim/surface/stock_grid.h"

#include <openvdb/tree/LeafManager.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "sim/surface/stock_grid_data.h"

namespace provecut::surface {

Vec3 cellSize(const Stock& stock, Vec2 cell) {
  const int nz = std::max(1, static_cast<int>(std::ceil(stock.size_mm.z / std::max(cell.x, cell.y) - 1e-9)));
  return {cell.x, cell.y, stock.size_mm.z / nz};
}

StockGrid::~StockGrid() = default;
StockGrid::StockGrid(StockGrid&&) noexcept = default;
StockGrid& StockGrid::operator=(StockGrid&&) noexcept = default;

StockGrid::StockGrid(const cutting::DexelField& field) : grid_(std::make_unique<Grid>()) {
  Grid& g = *grid_;
  Stock stock;
  stock.size_mm = {field.nx * field.cell_x_mm, field.ny * field.cell_y_mm, field.thickness_mm};
  g.cell_mm = cellSize(stock, {field.cell_x_mm, field.cell_y_mm});
  g.size = {field.nx, field.ny, static_cast<int>(std::lround(field.thickness_mm / g.cell_mm.z))};
  g.tree->fill(openvdb::CoordBBox(openvdb::Coord(0), g.size.offsetBy(-1)), true, true);
  constexpr int leaf = 8;
  // Only blocks that hold something to take away need leaves of their own; whole blocks inside stay tiles.
  std::vector<openvdb::Coord> touched;
  const int blocks_x = (g.size.x() + leaf - 1) / leaf, blocks_y = (g.size.y() + leaf - 1) / leaf,
            blocks_z = (g.size.z() + leaf - 1) / leaf;
  const float dz = static_cast<float>(g.cell_mm.z);
  const auto keptFrom = [&](float floor) { return static_cast<int>(std::ceil(floor / dz - 0.5F)); };
  const auto keptTo = [&](float top) { return static_cast<int>(std::floor(top / dz - 0.5F)) + 1; };
  cutting::DexelSegment plain;
  for (int bx = 0; bx < blocks_x; ++bx) {
    for (int by = 0; by < blocks_y; ++by) {
      int highest_floor = 0, lowest_top = g.size.z();
      int hollow_from = g.size.z(), hollow_to = 0;  // between runs of a dexel
      for (int y = by * leaf; y < std::min(g.size.y(), (by + 1) * leaf); ++y) {
        for (int x = bx * leaf; x < std::min(g.size.x(), (bx + 1) * leaf); ++x) {
          const std::size_t c = field.index(x, y);
          const bool empty = field.thickness(c) <= cutting::no_material_mm;
          highest_floor = std::max(highest_floor, empty ? g.size.z() : keptFrom(field.floor[c]));
          lowest_top = std::min(lowest_top, empty ? 0 : keptTo(field.top[c]));
          const auto runs = cutting::centreSegments(field, c, plain);
          if (runs.size() < 2) continue;
          hollow_from = std::min(hollow_from, keptTo(runs.front().high));
          hollow_to = std::max(hollow_to, keptFrom(runs.back().low));
        }
      }
      for (int bz = 0; bz < blocks_z; ++bz) {
        const bool hollow = bz * leaf < hollow_to && (bz + 1) * leaf > hollow_from;
        if (bz * leaf < highest_floor || (bz + 1) * leaf > lowest_top || hollow) {
          touched.emplace_back(bx * leaf, by * leaf, bz * leaf);
        }
      }
    }
  }
  for (const openvdb::Coord& origin : touched) g.tree->touchLeaf(origin);
  openvdb::tree::LeafManager<openvdb::MaskTree> leaves(*g.tree);
  leaves.foreach ([&](openvdb::MaskTree::LeafNodeType& node, std::size_t) {
    const openvdb::Coord origin = node.origin();
    for (int ix = 0; ix < leaf; ++ix) {
      // One word of the mask is a plane of constant x, one byte of it a dexel of eight voxels.
      std::uint64_t keep = 0;
      for (int iy = 0; iy < leaf; ++iy) {
        const int x = origin.x() + ix, y = origin.y() + iy;
        if (x >= g.size.x() || y >= g.size.y()) continue;
        const std::size_t c = field.index(x, y);
        cutting::DexelSegment one;
        for (const cutting::DexelSegment& run : cutting::centreSegments(field, c, one)) {
          const int from = std::clamp(keptFrom(run.low) - origin.z(), 0, leaf);
          const int to = std::clamp(keptTo(run.high) - origin.z(), 0, leaf);
          if (from >= to) continue;
          const std::uint64_t dexel = (0xFFU >> (leaf - (to - from))) << from;
          keep |= dexel << (iy * leaf);
        }
      }
      auto& word = node.getValueMask().getWord<std::uint64_t>(static_cast<openvdb::Index>(ix));
      word &= keep;
    }
  });
}

Vec3 StockGrid::cell_mm() const {
  return grid_->cell_mm;
}
std::uint64_t StockGrid::voxels() const {
  return grid_->tree->activeVoxelCount();
}
double StockGrid::volume_mm3() const {
  const Vec3 v = grid_->cell_mm;
  return static_cast<double>(voxels()) * v.x * v.y * v.z;
}

}  // namespace provecut::surface
