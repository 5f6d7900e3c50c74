// Cutting with tools that leave material hanging over them, and cutting what hangs: piece by piece of the tool, in the
// cells' sample dexels. All other tools and cells are left to the kernel.
#pragma once

#include "sim/stock/cut_kernel.h"
#include "sim/tool/cutter.h"

namespace provecut::cutting {

// Rows [row_begin, row_end) of the field only, so that bands of rows can be cut side by side; the field's undercut
// cells are prepared. `by_pieces` says whether the tool was cut piece by piece there.
SweepCut cutSweep(DexelField& field, const Cutter& cutter, const Sweep& sweep, int row_begin, int row_end,
                  bool& by_pieces);

// True if a program with these tools can leave undercut cells.
bool mayUndercut(const Cutter& cutter);

// Gives back the memory of cells that a plain dexel describes as well, where there are very many.
void closePlainCells(DexelField& field);

}  // namespace provecut::cutting
