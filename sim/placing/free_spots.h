// Spots to choose from: a few of the places that are free, well apart, near the stock's corners and sides.
#pragma once

#include <vector>

#include "parser/job/job.h"
#include "sim/clearance/on_stock.h"
#include "sim/path/programs.h"

namespace provecut::placing {

struct SpotsAsked {
  int setup = 0;
  std::vector<int> programs;  // of that setup, for which they must be clear, in the order of the job
  HoldDown form;              // its own place does not count
  clearance::OnStock lies = clearance::OnStock::on;  // or across its edge, with a grip of 5 mm
};

// In steps of 1 mm, or of 0.05 in where the job is in inches; in the setup's frame, mm. All of them can be used
// together, and each is a place as nearestFreeSpot() finds them: clear, in no part, far enough from the edges.
std::vector<SetupPoint2> freeSpots(const Job& job, const Programs& programs, const SpotsAsked& asked);

}  // namespace provecut::placing
