// Thin walls and posts that a program leaves standing.
#pragma once

#include <vector>

#include "parser/base/geometry.h"
#include "sim/stock/dexel_field.h"

namespace provecut::pieces {

// A sliver is thinner than this for at least the height below from its top down (common practice, no source: a wall
// three times as high as thick breaks when the bit comes by).
inline constexpr double sliver_width_mm = 1;
inline constexpr double sliver_height_mm = 3;

// A sliver as it was found: Sliver is what is told of it.
struct FoundSliver {
  SetupPoint at;                      // on its top where it is thinnest
  double width_mm = 0;                // there, at its foot
  double height_mm = 0;               // the maximum
  std::vector<cutting::Cell> beside;  // cells that the program cut down beside it
};

// Those that `after` has and `before` had not, the tallest first. Walls shorter in plan than 3 mm count only where they
// stand free all round. What is thinner than a cell of the raster can be missed.
std::vector<FoundSliver> slivers(const cutting::DexelField& before, const cutting::DexelField& after);

}  // namespace provecut::pieces
