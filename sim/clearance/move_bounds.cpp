#include "sim/clearance/move_bounds.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "parser/base/parallel_frames.h"
#include "sim/clearance/corner_gap.h"

namespace provecut::clearance {

SetupBox boxOf(const Motion& m, SetupPoint work_zero) {
  if (isArc(m)) return boundsOf(pathOf(m, work_zero, Machine{}).pieces[0]);
  SetupBox box;
  box.add(workToSetup(work_zero, m.start));
  box.add(workToSetup(work_zero, m.end));
  return box;
}

double boxBound(const SetupBox& box, const ToolBody& body, const Obstacle& o) {
  const double dx = std::max({0.0, o.low.x - box.high.x, box.low.x - o.high.x});
  const double dy = std::max({0.0, o.low.y - box.high.y, box.low.y - o.high.y});
  const double d = std::sqrt(dx * dx + dy * dy);
  double low = std::numeric_limits<double>::infinity();
  for (const BodyPiece& p : body.pieces) low = std::min(low, cornerGap(p, d, o.top_mm - box.low.z).distance);
  return low;
}

}  // namespace provecut::clearance
