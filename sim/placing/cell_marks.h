// A grid of square cells over a box of places, and one bit for each.
#pragma once

#include <cstdint>
#include <vector>

#include "parser/base/geometry.h"

namespace provecut::placing {

// A tile's row of cells is one word of bits: different tiles may be marked at the same time.
inline constexpr int block_cells = 4, tile_cells = 64;

// `cells` along each side, from cell (x, y); it may reach beyond the grid.
struct CellSquare {
  int x = 0, y = 0, cells = 0;
};

struct CellGrid {
  SetupPoint2 low;
  double cell_mm = 0;
  int nx = 0, ny = 0;  // multiples of block_cells

  SetupPoint2 node(int x, int y) const { return {low.x + x * cell_mm, low.y + y * cell_mm}; }
  SetupPoint2 middle(const CellSquare& s) const {
    return node(s.x, s.y) + Vec2{s.cells * cell_mm / 2, s.cells * cell_mm / 2};
  }
  bool outside(const CellSquare& s) const { return s.x >= nx || s.y >= ny; }
};

// Cells of about `side` mm that cover the box in whole blocks: they divide its longer side.
CellGrid gridOver(SetupPoint2 low, SetupPoint2 high, double side_mm);

// The cells in which something was found.
struct CellMarks {
  int nx = 0, ny = 0, words = 0;
  std::vector<std::uint64_t> bits;
};

CellMarks marksFor(const CellGrid& grid);
void mark(const CellSquare& s, CellMarks& marks);
bool marked(const CellMarks& marks, int x, int y);  // false outside

}  // namespace provecut::placing
