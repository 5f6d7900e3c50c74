// Does a program cut round a place? What lies inside a closed cut belongs to a part, an island or an offcut.
#pragma once

#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"

namespace provecut {

// Cuts are feed moves below the stock's top face, seen from above.

// True where some unbroken run of cuts goes round the point `at` by three quarters of a turn or
// more.
bool cutGoesRound(const Job& job, const Setup& setup, const Program& program, StockPoint2 at);

// Adds the distances from `from`, mm, at which the straight way to `to` crosses a cut. Between
// two of them cutGoesRound changes for no closed cut.
void addCrossings(const Job& job, const Setup& setup, const Program& program, StockPoint2 from, StockPoint2 to,
                  std::vector<double>& distances);

}  // namespace provecut
