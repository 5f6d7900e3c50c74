#include "sim/clearance/on_stock.h"

namespace provecut::clearance {

OnStock lieOn(Vec3 stock_size, const Obstacle& o) {
  // The stock is a box, so the footprint's own box tells whether it lies wholly on it; beside it needs the
  // shape.
  if (o.low.x >= 0 && o.low.y >= 0 && o.high.x <= stock_size.x && o.high.y <= stock_size.y) return OnStock::on;
  HoldDown box;
  box.at_mm = {stock_size.x / 2, stock_size.y / 2};
  box.size_mm = {stock_size.x, stock_size.y};
  return footprintsOverlap(obstacle(box, 0), o) ? OnStock::across : OnStock::beside;
}

}  // namespace provecut::clearance
