#pragma once

#include <vector>

#include "tests/reference/parting/cutter.h"
#include "tests/reference/parting/sheet.h"

namespace provecut::reference {

// A point of a setup in the stock frame in plan; z stays that of the setup.
SheetPoint inStockPlan(const Sheet& sheet, Face face, SheetPoint p);

// A move as straight strokes, in plan in the stock frame, heights of the setup. Arcs: chords that leave the arc by at
// most 0.002 mm.
std::vector<Stroke> strokesOf(const Sheet& sheet, Face face, const SheetMove& move);

}  // namespace provecut::reference
