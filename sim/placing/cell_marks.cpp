#include "sim/placing/cell_marks.h"

#include <algorithm>
#include <cmath>

namespace provecut::placing {

CellGrid gridOver(SetupPoint2 low, SetupPoint2 high, double side_mm) {
  const Vec2 size = high - low;
  const auto blocks = [&](double extent) { return std::max(1.0, std::ceil(extent / (side_mm * block_cells) - 1e-9)); };
  CellGrid grid;
  grid.low = low;
  grid.cell_mm = std::max(size.x / blocks(size.x), size.y / blocks(size.y)) / block_cells;
  const auto cells = [&](double extent) {
    return static_cast<int>(std::ceil(extent / grid.cell_mm / block_cells - 1e-9)) * block_cells;
  };
  grid.nx = cells(size.x);
  grid.ny = cells(size.y);
  return grid;
}

CellMarks marksFor(const CellGrid& grid) {
  CellMarks marks{grid.nx, grid.ny, grid.nx / tile_cells + 1, {}};
  marks.bits.assign(std::size_t{1} * marks.words * marks.ny, 0);
  return marks;
}

void mark(const CellSquare& s, CellMarks& marks) {
  const int x1 = std::min(marks.nx, s.x + s.cells), y1 = std::min(marks.ny, s.y + s.cells);
  for (int y = s.y; y < y1; ++y) {
    for (int x = s.x; x < x1;) {
      const int bit = x % tile_cells, count = std::min(tile_cells - bit, x1 - x);
      const std::uint64_t ones = count == tile_cells ? ~std::uint64_t{0} : ((std::uint64_t{1} << count) - 1) << bit;
      marks.bits[y * std::ptrdiff_t{marks.words} + x / tile_cells] |= ones;
      x += count;
    }
  }
}

bool marked(const CellMarks& marks, int x, int y) {
  if (x < 0 || y < 0 || x >= marks.nx || y >= marks.ny) return false;
  return (marks.bits[y * std::ptrdiff_t{marks.words} + x / tile_cells] >> (x % tile_cells)) & 1;
}

}  // namespace provecut::placing
