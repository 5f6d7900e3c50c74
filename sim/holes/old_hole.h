// The holes that screws leave behind, and the cuts that meet them.
#pragma once

#include <span>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/observed/holes.h"
#include "sim/path/programs.h"

namespace provecut::holes {

// Where a screw stood: a hole right through the stock from then on.
struct OldHole {
  int hold_down = 0;
  int left_by = 0;         // the last program of that setup for which it stood, in the order of the job
  int setup = 0;           // the setup in which it stood
  StockPoint2 at_stock;    // in plan
  double diameter_mm = 0;  // 0: not known
};

// One per screw and setup that lists it, where it lies on the stock.
std::vector<OldHole> oldHoles(const Job& job);

// Where the hole lies in a setup, in plan.
SetupPoint2 placeIn(const Job& job, const OldHole& hole, const Setup& setup);

// For every hole and every later program: the moves on which the cutter meets it below the stock's top, where there is
// any. Holes without a diameter are left out, and those in which a screw stands again.
std::vector<HoleInPath> holesInPath(const Job& job, const Programs& programs);

}  // namespace provecut::holes
