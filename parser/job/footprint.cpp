#include "parser/job/job.h"

#include <algorithm>
#include <numbers>

#include "parser/job/outline_check.h"

namespace provecut {

const Tool* findTool(const Job& job, int number) {
  const auto it = std::find_if(job.tools.begin(), job.tools.end(), [&](const Tool& t) { return t.number == number; });
  return it == job.tools.end() ? nullptr : &*it;
}

double reach_mm(const SpindleAttachment& attachment) {
  return length(attachment.offset_mm) + attachment.diameter_mm / 2;
}

std::vector<SetupPoint2> footprint(const HoldDown& h) {
  std::vector<SetupPoint2> corners = h.outline_mm;
  if (corners.empty()) {
    const double a = h.angle_deg * std::numbers::pi / 180;
    // Exact at right angles, so that a clamp rotated by 90 degrees has the size that was written.
    const bool right_angle = std::fmod(h.angle_deg, 90) == 0;
    const double c = right_angle ? std::round(std::cos(a)) : std::cos(a);
    const double s = right_angle ? std::round(std::sin(a)) : std::sin(a);
    const double hx = h.size_mm.x / 2, hy = h.size_mm.y / 2;
    for (const Vec2 p : {Vec2{-hx, -hy}, Vec2{hx, -hy}, Vec2{hx, hy}, Vec2{-hx, hy}}) {
      corners.push_back({h.at_mm.x + c * p.x - s * p.y, h.at_mm.y + s * p.x + c * p.y});
    }
    return corners;
  }
  if (signedArea(corners) < 0) std::reverse(corners.begin(), corners.end());
  return corners;
}

HoldDown movedTo(HoldDown h, SetupPoint2 at) {
  for (SetupPoint2& corner : h.outline_mm) corner = corner + (at - h.at_mm);
  h.at_mm = at;
  return h;
}

}  // namespace provecut
