// Which piece of the stock is held by what as a program ends.
#pragma once

#include <vector>

#include "parser/job/job.h"
#include "sim/observed/observation.h"
#include "sim/observed/pieces.h"
#include "sim/pieces/parts.h"

namespace provecut::pieces {

// The pieces that the stock has come to, parts that hang on tabs apart from what they hang on; the rest of the stock
// first, then by size. Crumbs are left out; at most 100 pieces.
std::vector<PieceHeld> heldPieces(const Job& job, const Setup& setup, const ProgramEntry& entry,
                                  const cutting::DexelField& field, const std::vector<ProgramRun>& runs,
                                  const PartTracker& tracker);

}  // namespace provecut::pieces
