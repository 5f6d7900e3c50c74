// Which piece of the blank is held by what as a program ends.
#pragma once

#include <vector>

#include "sim/observation.h"
#include "sim/parts.h"

namespace provecut {

// The pieces that the blank has come to, parts that hang on tabs apart from what they hang on; the rest of the blank first,
// then by size. Crumbs are left out; at most 100 pieces.
std::vector<PieceHeld> heldPieces(const Job& job, const Setup& setup, const ProgramEntry& entry, const ColumnField& field,
                                  const std::vector<ProgramRun>& runs, const PartTracker& tracker);

}  // namespace provecut
