// Which pieces a hold-down holds.
#pragma once

#include <span>
#include <vector>

#include "parser/job/job.h"
#include "sim/pieces/pieces.h"

namespace provecut::pieces {

// Per label of `pieces` (- 1) the fitted hold-downs that hold it: a screw through it, a clamp or another body on it,
// tape under it where it still touches the spoilboard. Pins only place a piece, they do not hold it down.
std::vector<std::vector<int>> heldBy(const cutting::DexelField& field, const Pieces& pieces, const Job& job,
                                     std::span<const int> fitted);

// The same with the area of each hold-down over (under) the piece, mm², for labels 1 … `count`.
struct Hold {
  int hold_down = 0;
  double area_mm2 = 0;
};
std::vector<std::vector<Hold>> holdsOf(const cutting::DexelField& field, const std::vector<Label>& label,
                                       std::size_t count, const Job& job, std::span<const int> fitted);

}  // namespace provecut::pieces
