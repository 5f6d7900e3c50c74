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

namespace {

constexpr int leaf = 8;  // voxels along the side of a leaf

// The first voxel of a dexel that is kept above a floor, and the first that is not below a top: those count whose
// middle is in the material.
struct Layers {
  float dz;
  int from(float floor) const { return static_cast<int>(std::ceil(floor / dz - 0.5F)); }
  int to(float top) const { return static_cast<int>(std::floor(top / dz - 0.5F)) + 1; }
};

// What a block of dexels has in common, in voxels.
struct Block {
  int highest_floor, lowest_top;
  int hollow_from, hollow_to;  // between segments of a dexel
};

Block blockAt(const cutting::DexelField& field, const Layers& layers, int nz, int bx, int by) {
  Block b{0, nz, nz, 0};
  cutting::DexelSegment plain;
  for (int y = by * leaf; y < std::min(field.ny, (by + 1) * leaf); ++y) {
    for (int x = bx * leaf; x < std::min(field.nx, (bx + 1) * leaf); ++x) {
      const cutting::Cell c = field.index(x, y);
      const bool empty = field.thickness(c) <= cutting::no_material_mm;
      b.highest_floor = std::max(b.highest_floor, empty ? nz : layers.from(field.floor[c]));
      b.lowest_top = std::min(b.lowest_top, empty ? 0 : layers.to(field.top[c]));
      const auto segments = cutting::centreSegments(field, c, plain);
      if (segments.size() < 2) continue;
      b.hollow_from = std::min(b.hollow_from, layers.to(segments.front().high));
      b.hollow_to = std::max(b.hollow_to, layers.from(segments.back().low));
    }
  }
  return b;
}

// Blocks that hold something to take away: only these need leaves of their own, whole ones inside stay tiles.
std::vector<openvdb::Coord> touchedBlocks(const cutting::DexelField& field, const Layers& layers,
                                          const openvdb::Coord& size) {
  std::vector<openvdb::Coord> touched;
  const auto blocks = [](int voxels) { return (voxels + leaf - 1) / leaf; };
  for (int bx = 0; bx < blocks(size.x()); ++bx) {
    for (int by = 0; by < blocks(size.y()); ++by) {
      const Block b = blockAt(field, layers, size.z(), bx, by);
      for (int bz = 0; bz < blocks(size.z()); ++bz) {
        const bool hollow = bz * leaf < b.hollow_to && (bz + 1) * leaf > b.hollow_from;
        if (bz * leaf < b.highest_floor || (bz + 1) * leaf > b.lowest_top || hollow)
          touched.emplace_back(bx * leaf, by * leaf, bz * leaf);
      }
    }
  }
  return touched;
}

// Keeps of a leaf what is material.
void carve(openvdb::MaskTree::LeafNodeType& node, const cutting::DexelField& field, const Layers& layers) {
  const openvdb::Coord origin = node.origin();
  for (int ix = 0; ix < leaf; ++ix) {
    // One word of the mask is a plane of constant x, one byte of it a dexel of eight voxels.
    std::uint64_t keep = 0;
    for (int iy = 0; iy < leaf; ++iy) {
      if (!field.inside(origin.x() + ix, origin.y() + iy)) continue;
      cutting::DexelSegment plain;
      for (const cutting::DexelSegment& s :
           cutting::centreSegments(field, field.index(origin.x() + ix, origin.y() + iy), plain)) {
        const int from = std::clamp(layers.from(s.low) - origin.z(), 0, leaf);
        const int to = std::clamp(layers.to(s.high) - origin.z(), 0, leaf);
        if (from >= to) continue;
        const std::uint64_t dexel = (0xFFU >> (leaf - (to - from))) << from;
        keep |= dexel << (iy * leaf);
      }
    }
    node.getValueMask().getWord<std::uint64_t>(ix) &= keep;
  }
}

}  // namespace

StockGrid::StockGrid(const cutting::DexelField& field) : grid_(std::make_unique<Grid>()) {
  Grid& g = *grid_;
  Stock stock;
  stock.size_mm = {field.nx * field.cell_x_mm, field.ny * field.cell_y_mm, field.thickness_mm};
  g.cell_mm = cellSize(stock, {field.cell_x_mm, field.cell_y_mm});
  g.size = {field.nx, field.ny, static_cast<int>(std::lround(field.thickness_mm / g.cell_mm.z))};
  g.tree->fill(openvdb::CoordBBox(openvdb::Coord(0), g.size.offsetBy(-1)), true, true);
  const Layers layers{static_cast<float>(g.cell_mm.z)};
  for (const openvdb::Coord& origin : touchedBlocks(field, layers, g.size)) g.tree->touchLeaf(origin);
  openvdb::tree::LeafManager<openvdb::MaskTree> leaves(*g.tree);
  leaves.foreach ([&](openvdb::MaskTree::LeafNodeType& node, std::size_t) { carve(node, field, layers); });
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
