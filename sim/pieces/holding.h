// Which pieces a hold-down holds.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "parser/job/job.h"
#include "sim/clearance/obstacle.h"
#include "sim/pieces/pieces.h"

namespace provecut::pieces {

// A hold-down over (tape: under) a piece.
struct Hold {
  int hold_down = 0;
  double area_mm2 = 0;
};

// A patch of tape holds from 5 × 5 mm on (our estimate, no source), of which the raster may count a tenth less.
inline constexpr double least_tape_mm2 = 22.5;

// The hold-downs alone.
std::vector<int> namesOf(const std::vector<Hold>& holds);

// Whether that is enough to hold it: a screw through it, a clamp or another body on it, however little; tape from
// least_tape_mm2 on. Pins only place a piece, they do not hold it down.
bool isEnough(const Job& job, const Hold& hold);

// True if the hold-down, whose body is given in the setup frame, is over the dexel, or tape under it where the dexel
// still touches the spoilboard.
bool isOver(const Job& job, int hold_down, const clearance::Obstacle& body, const cutting::DexelField& field,
            cutting::Cell cell);

// Per label 1 … `count` (- 1) the fitted hold-downs over or under it, enough or not.
std::vector<std::vector<Hold>> areasUnder(const cutting::DexelField& field, const std::vector<Label>& label,
                                          std::size_t count, const Job& job, std::span<const int> fitted);

// The same, those only that hold it.
std::vector<std::vector<Hold>> holdsOf(const cutting::DexelField& field, const std::vector<Label>& label,
                                       std::size_t count, const Job& job, std::span<const int> fitted);

// Per label of `pieces` (- 1) the fitted hold-downs that hold it.
std::vector<std::vector<int>> heldBy(const cutting::DexelField& field, const Pieces& pieces, const Job& job,
                                     std::span<const int> fitted);

}  // namespace provecut::pieces
