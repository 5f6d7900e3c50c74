// Which pieces a hold-down holds.
#pragma once

#include <span>
#include <vector>

#include "parser/job.h"
#include "sim/pieces.h"

namespace provecut {

// Per label of `pieces` the standing hold-downs that hold it: a screw through it, a clamp or another body on it, tape
// under it where it still touches the spoilboard. Pins only place a piece, they do not hold it down.
std::vector<std::vector<int>> heldBy(const ColumnField& field, const Pieces& pieces, const Job& job,
                                     std::span<const int> standing);

}  // namespace provecut
