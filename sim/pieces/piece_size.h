// How large a piece is in plan, exacter than its dexels are wide.
#pragma once

#include <span>

#include "sim/stock/dexel_field.h"

namespace provecut::pieces {

// The box of a piece from its dexels, its sides where the walls are: row by row from the mean heights, which know how
// much of a dexel a wall takes, and at a corner from the straight walls that meet there. Straight walls within 0.05 mm.
// `box` is that of the dexels' edges; what of a side cannot be read stays as it is there.
SetupBox exactBox(const cutting::DexelField& field, std::span<const cutting::Cell> cells, const SetupBox& box);

}  // namespace provecut::pieces
