// The second look at rapids that run low through the stock: what they meet there may be thinner than a cell.
#pragma once

#include <vector>

#include "sim/observed/move_cut.h"
#include "sim/stock/close_up.h"

namespace provecut::cutting {

// Cuts those of the last program's rapids once more on finer cells that took something, yet nothing at any dexel's
// centre, or something about as narrow as a cell. `cuts`: of that program's motions; a rapid that meets at least as
// much on the finer cells is given what it meets there. A way that was cut before takes nothing and is left alone.
void lookCloserAtRapids(const PastCuts& past, Vec2 cell_mm, std::vector<MoveCut>& cuts);

}  // namespace provecut::cutting
