#include "sim/on_blank.h"

namespace provecut {

OnBlank lieOn(Vec3 blank, const Obstacle& o) {
  // The blank is a box, so the footprint's own box tells whether it lies wholly on it; beside it needs the
  // shape.
  if (o.low.x >= 0 && o.low.y >= 0 && o.high.x <= blank.x && o.high.y <= blank.y) return OnBlank::on;
  HoldDown box;
  box.at_mm = {blank.x / 2, blank.y / 2};
  box.size_mm = {blank.x, blank.y};
  return footprintsOverlap(obstacle(box, 0), o) ? OnBlank::across : OnBlank::beside;
}

}  // namespace provecut
