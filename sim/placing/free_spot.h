// The nearest place at which a hold-down is out of the way, in whatever direction.
#pragma once

#include <optional>
#include <vector>

#include "parser/job/job.h"
#include "sim/path/programs.h"

namespace provecut::placing {

// Where one hold-down is looked for a place.
struct SpotSearch {
  int setup = 0;
  int hold_down = 0;
  std::vector<int> programs;     // for which it must be clear, in the order of the job
  std::vector<HoldDown> others;  // that stand with it, each where it then stands
  double step_mm = 0.1;          // places are whole multiples of it, in x and in y
  double max_way_mm = 150;
};

// Whether the hold-down, put at `at`, is clear of every move of these programs: the existing exact check.
bool isClearAt(const Job& job, const Programs& programs, const SpotSearch& search, SetupPoint2 at);

// The place nearest to where the job has it, itself included, up to the longest way, at which
//  - it is clear as isClearAt() says;
//  - it lies to the stock as before: wholly on it, wholly beside it, or across its edge, there with a grip of 5 mm, or
//    of what it had if that was less;
//  - it overlaps none of the others;
//  - a screw comes into no part (no round of a cut goes about its new place that did not go about the old one);
//  - a screw in the stock keeps the distance from the edges that screwEdge() says; only where no such place is free, no
//    nearer than before. One beside the stock splits nothing.
std::optional<SetupPoint2> nearestFreeSpot(const Job& job, const Programs& programs, const SpotSearch& search);

}  // namespace provecut::placing
