// Some dexels of a field as a small raster of their own.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "sim/stock/dexel_field.h"

namespace provecut::pieces {

// Its cells are the field's: (0, 0) is (x0, y0) of it. A margin may lie outside the field.
template <class T>
struct CellRaster {
  int x0 = 0, y0 = 0, nx = 0, ny = 0;
  double cell_x_mm = 0, cell_y_mm = 0;
  std::vector<T> cells;

  std::size_t index(int x, int y) const { return static_cast<std::size_t>(y) * nx + x; }
  bool inside(int x, int y) const { return x >= 0 && y >= 0 && x < nx && y < ny; }
  SetupPoint2 low() const { return {x0 * cell_x_mm, y0 * cell_y_mm}; }
  SetupPoint2 high() const { return low() + Vec2{nx * cell_x_mm, ny * cell_y_mm}; }
  // What the cell in which a place of the plan lies holds; none beside the raster.
  std::optional<T> at(SetupPoint2 p) const {
    const int x = static_cast<int>(std::floor(p.x / cell_x_mm)) - x0,
              y = static_cast<int>(std::floor(p.y / cell_y_mm)) - y0;
    return inside(x, y) ? std::optional<T>(cells[index(x, y)]) : std::nullopt;
  }
};

// `in` where the dexels are, `out` elsewhere, up to a margin about them; no cells where there are no dexels.
template <class T>
CellRaster<T> rasterOf(const cutting::DexelField& f, std::span<const cutting::Cell> dexels, cutting::CellPlace margin,
                       T in, T out) {
  CellRaster<T> r{0, 0, 0, 0, f.cell_x_mm, f.cell_y_mm, {}};
  if (dexels.empty()) return r;
  int x_high = -1, y_high = -1;
  r.x0 = f.nx;
  r.y0 = f.ny;
  for (const cutting::Cell c : dexels) {
    const auto [x, y] = f.place(c);
    r.x0 = std::min(r.x0, x);
    r.y0 = std::min(r.y0, y);
    x_high = std::max(x_high, x);
    y_high = std::max(y_high, y);
  }
  r.x0 -= margin.x;
  r.y0 -= margin.y;
  r.nx = x_high + margin.x + 1 - r.x0;
  r.ny = y_high + margin.y + 1 - r.y0;
  r.cells.assign(r.index(0, r.ny), out);
  for (const cutting::Cell c : dexels) {
    const auto [x, y] = f.place(c);
    r.cells[r.index(x - r.x0, y - r.y0)] = in;
  }
  return r;
}

}  // namespace provecut::pieces
