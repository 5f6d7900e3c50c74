// Walks over the dexels of a field.
#pragma once

#include "sim/stock/dexel_field.h"

namespace provecut::cutting {

// Calls visit(cell) for every dexel, row by row, the padding left out.
template <class Visit>
void eachCell(const DexelField& field, const Visit& visit) {
  for (int y = 0; y < field.ny; ++y) {
    for (Cell c = field.index(0, y), end = field.index(field.nx, y); c < end; ++c) visit(c);
  }
}

// Calls visit(cell) for the dexels that share a side with `cell`: left, right, front, back.
template <class Visit>
void beside(const DexelField& field, Cell cell, const Visit& visit) {
  const CellPlace p = field.place(cell);
  if (p.x > 0) visit(cell - 1);
  if (p.x + 1 < field.nx) visit(cell + 1);
  if (p.y > 0) visit(cell - field.stride);
  if (p.y + 1 < field.ny) visit(cell + field.stride);
}

// The length of the side that two dexels share.
inline double sideLength_mm(const DexelField& field, Cell a, Cell b) {
  return a + 1 == b || b + 1 == a ? field.cell_y_mm : field.cell_x_mm;
}

}  // namespace provecut::cutting
