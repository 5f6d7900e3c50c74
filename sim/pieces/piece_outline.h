// The outline of a piece in plan, out of its dexels.
#pragma once

#include <span>
#include <vector>

#include "parser/job/job.h"
#include "sim/observed/pieces.h"
#include "sim/stock/dexel_field.h"

namespace provecut::pieces {

// Rings along the edges of the piece's dexels, in the stock frame, mm. Steps of the raster are smoothed: a ring stays
// within a cell of the edges. Dexels that meet at a corner only are apart, as they are for the piece.
std::vector<StockRing> pieceOutline(const cutting::DexelField& field, std::span<const cutting::Cell> cells,
                                    const Stock& stock, const Setup& setup);

}  // namespace provecut::pieces
