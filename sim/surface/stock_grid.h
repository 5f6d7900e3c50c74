// The stock as voxels, one bit each, in the stock frame: what remains of it after all setups, for programs that work
// with volumes. The grid itself is hidden: its library is costly to compile.
#pragma once

#include <cstdint>
#include <memory>

#include "parser/job/job.h"
#include "sim/stock/dexel_field.h"

namespace provecut::surface {

// As wide as the cells; the height divides the stock's thickness and is near to the cell's width.
Vec3 cellSize(const Stock& stock, Vec2 cell_mm);

class StockGrid {
 public:
  // `stock` in the stock frame. A voxel is solid where its centre lies in one of its dexel's segments of material: what
  // hangs over a hollow stays.
  explicit StockGrid(const cutting::DexelField& stock);
  ~StockGrid();
  StockGrid(StockGrid&&) noexcept;
  StockGrid& operator=(StockGrid&&) noexcept;

  Vec3 cell_mm() const;
  std::uint64_t voxels() const;
  double volume_mm3() const;

  struct Grid;
  const Grid& grid() const { return *grid_; }

 private:
  std::unique_ptr<Grid> grid_;
};

}  // namespace provecut::surface
