#include "sim/clearance/on_stock.h"

#include <algorithm>

namespace provecut::clearance {

Obstacle stockOutline(const StockPlan& stock, double top_mm) {
  HoldDown whole;
  whole.at_mm = stock.middle();
  if (stock.round) {
    whole.diameter_mm = stock.size_mm.x;
  } else {
    whole.size_mm = stock.size_mm;
  }
  return obstacle(whole, top_mm);
}

double reachBeyond_mm(const StockPlan& stock, const Obstacle& o) {
  // Of a rectangle the footprint's own box tells.
  if (!stock.round) return std::max({-o.low.x, -o.low.y, o.high.x - stock.size_mm.x, o.high.y - stock.size_mm.y});
  double farthest = -infinity;
  for (const Edge& e : o.edges) farthest = std::max(farthest, beyondEdge_mm(stock, e.a));
  return farthest + o.radius_mm;
}

OnStock lieOn(const StockPlan& stock, const Obstacle& o) {
  if (reachBeyond_mm(stock, o) <= 0) return OnStock::on;
  return footprintsOverlap(stockOutline(stock, 0), o) ? OnStock::across : OnStock::beside;
}

}  // namespace provecut::clearance
