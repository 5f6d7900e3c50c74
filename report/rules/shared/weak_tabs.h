// Tabs that are too small for what holds a part, over the stock's thickness tolerance.
#pragma once

#include "report/facts/facts.h"
#include "sim/observed/pieces.h"

namespace provecut {

// The one with the least area, of a piece that has any.
const Tab& smallestTab(const Piece& piece);

// What is left of a tab where the stock is thinner by the whole tolerance: a zero on the top cuts it thinner. 0:
// nothing.
double worstTabThickness_mm(const Job& job, const Tab& tab);

// Smaller than `limits.min_tab_area`, or than half of that in the thinnest stock.
bool isThinTab(const Job& job, const Tab& tab);

// True if a tab is too small. Where the job sets no limit of its own and names a material, tabs that hold the cutter's
// push several times over are large enough whatever their size.
bool hasThinTab(const Facts& facts, const Piece& piece);

}  // namespace provecut
