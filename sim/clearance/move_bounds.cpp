#include "sim/clearance/move_bounds.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "sim/clearance/corner_gap.h"

namespace provecut::clearance {

Box3 boxOf(const Motion& m, Vec3 shift) {
  if (isArc(m)) return boundsOf(pathOf(m, shift, Machine{}).pieces[0]);
  Box3 box;
  box.add(m.start + shift);
  box.add(m.end + shift);
  return box;
}

double boxBound(const Box3& box, const ToolBody& body, const Obstacle& o) {
  const double dx = std::max({0.0, o.low.x - box.high.x, box.low.x - o.high.x});
  const double dy = std::max({0.0, o.low.y - box.high.y, box.low.y - o.high.y});
  const double d = std::sqrt(dx * dx + dy * dy);
  double low = std::numeric_limits<double>::infinity();
  for (const BodyPiece& p : body.pieces) low = std::min(low, cornerGap(p, d, o.top_mm - box.low.z).distance);
  return low;
}

}  // namespace provecut::clearance
