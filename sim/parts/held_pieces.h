// Which piece of the stock is held by what as a program ends.
#pragma once

#include <vector>

#include "sim/observed/pieces.h"
#include "sim/parts/parts.h"

namespace provecut::pieces {

// The pieces that the stock has come to, tabbed parts apart from what they hang on; the rest of the stock first, then
// by size. Crumbs are left out; at most 100 pieces.
std::vector<PieceHeld> heldPieces(const ProgramAt& at, const cutting::DexelField& field, const PartTracker& tracker);

}  // namespace provecut::pieces
