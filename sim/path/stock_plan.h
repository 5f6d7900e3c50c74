// The stock's outline in a setup, seen from above: a rectangle, or a disc that fills the square about it. It counts
// from the setup frame's zero, the rectangle's left front corner.
#pragma once

#include "parser/base/geometry.h"
#include "parser/job/job.h"

namespace provecut {

struct StockPlan {
  Vec2 size_mm;  // of a disc: its diameter, twice
  bool round = false;

  SetupPoint2 middle() const { return {size_mm.x / 2, size_mm.y / 2}; }
  double radius_mm() const { return size_mm.x / 2; }  // of a disc
};

StockPlan stockPlan(const Stock& stock, const Setup& setup);

// How far a place is outside the outline, mm: negative over the stock, there the distance to its nearest edge.
double beyondEdge_mm(const StockPlan& plan, SetupPoint2 p);

double area_mm2(const StockPlan& plan);

// The area of a disc about the origin within the box from `low` to `high`, mm².
double discArea_mm2(double radius_mm, Vec2 low, Vec2 high);

}  // namespace provecut
