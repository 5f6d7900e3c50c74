// The blank as voxels, one bit each, in the stock frame: what remains of it after all setups, for undercuts, meshes and
// export. The grid itself is hidden: its library is costly to compile.
#pragma once

#include <memory>

#include "sim/column_field.h"

namespace provecut {

class StockGrid {
 public:
  // The uncut blank. A voxel's height divides the blank's thickness and is near to the cell's width.
  StockGrid(const Stock& stock, Vec2 cell_mm);
  ~StockGrid();
  StockGrid(StockGrid&&) noexcept;
  StockGrid& operator=(StockGrid&&) noexcept;

  // Takes away every voxel whose centre lies outside its column's runs of material: what hangs over a hollow stays. `setup` says how the columns lie.
  void keepColumns(const ColumnField& field, const Setup& setup);

  Vec3 voxel_mm() const;
  std::uint64_t voxels() const;
  double volume_mm3() const;

 private:
  struct Grid;
  std::unique_ptr<Grid> grid_;
};

}  // namespace provecut
