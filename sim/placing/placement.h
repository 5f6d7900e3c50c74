// How a hold-down may lie: to the stock, to its edges, to what else stands there. Moves are not looked at.
#pragma once

#include <vector>

#include "parser/job/job.h"
#include "sim/clearance/obstacle.h"
#include "sim/clearance/on_stock.h"
#include "sim/path/stock_plan.h"

namespace provecut::placing {

// The stock as one program finds it, and how the hold-down is to lie to it.
struct LieToStock {
  StockPlan stock;
  clearance::OnStock lies = clearance::OnStock::on;
  double grip_mm = 0;         // at least so far over the edge, where it lies across it
  bool axis_on_stock = true;  // of a screw
  Vec2 edge_mm;               // the axis of a screw in the stock keeps so far from the sides, see screwEdge()
};

struct Placement {
  clearance::Obstacle form;  // about the origin
  bool screw = false;
  std::vector<LieToStock> to_stocks;
  std::vector<clearance::Obstacle> others;  // it overlaps none of them
};

// To lie as the hold-down does where the job has it: wholly on the stock, wholly beside it, or across its edge, there
// with a grip of 5 mm, or of what it has if that is less.
LieToStock lieAsAt(const Job& job, const Setup& setup, const HoldDown& hold_down);

// The same, its axis as near to the edges as it is where the job has it, if that is nearer: at the same share of what
// the edges ask for.
LieToStock edgeAsAt(LieToStock lie, SetupPoint2 home);

bool fits(const Placement& placement, SetupPoint2 at);

// True only where no place at most `half` from the middle fits.
bool neverFits(const Placement& placement, SetupPoint2 middle, double half);

}  // namespace provecut::placing
