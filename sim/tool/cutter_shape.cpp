#include "sim/tool/cutter_shape.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace provecut {

namespace {

float square(float v) {
  return v * v;
}

}  // namespace

float CutterShape::surface(float d) const {
  switch (underside) {
    case Underside::flat:
      return 0;
    case Underside::ball:
      return arc_radius - std::sqrt(std::max(0.0F, square(arc_radius) - d * d));
    case Underside::cone:
      return rise * std::max(0.0F, d - flat_radius);
    case Underside::bull:
      return arc_radius - std::sqrt(std::max(0.0F, square(arc_radius) - square(std::max(0.0F, d - flat_radius))));
    case Underside::profile: {
      const float at = std::min(d / radius, 1.0F) * static_cast<float>(profile_steps - 1);
      const int i = std::min(static_cast<int>(at), profile_steps - 2);
      return table[i] + (table[i + 1] - table[i]) * (at - static_cast<float>(i));
    }
  }
  return 0;
}

float CutterShape::radiusAt(float height) const {
  if (height >= rim) return radius;
  float low = 0, high = radius;
  for (int k = 0; k < 24; ++k) {
    const float mid = (low + high) / 2;
    (surface(mid) <= height ? low : high) = mid;
  }
  return low;
}

CutterShape cutterShape(const Tool& tool, const ToolBody& body) {
  CutterShape s;
  s.radius = static_cast<float>(tool.diameter_mm / 2);
  const auto cone = [&](double included_deg, double tip_diameter) {
    s.underside = Underside::cone;
    s.flat_radius = static_cast<float>(tip_diameter / 2);
    s.rise = static_cast<float>(1 / std::tan(included_deg / 2 * std::numbers::pi / 180));
  };
  switch (tool.shape) {
    case ToolShape::flat:
    case ToolShape::surfacing:
      break;
    case ToolShape::ball:
      s.underside = Underside::ball;
      s.arc_radius = s.radius;
      break;
    case ToolShape::vee:
      cone(tool.angle_deg, tool.tip_diameter_mm);
      break;
    case ToolShape::drill:
      cone(tool.angle_deg, 0);
      break;
    case ToolShape::bull:
      s.underside = Underside::bull;
      s.arc_radius = static_cast<float>(tool.corner_radius_mm);
      s.flat_radius = s.radius - s.arc_radius;
      break;
    case ToolShape::taper_ball:
    case ToolShape::form:
      s.underside = Underside::profile;
      s.radius = static_cast<float>(body.cutter_radius_mm);
      s.table.resize(profile_steps);
      for (int i = 0; i < profile_steps; ++i) {
        const double r = body.cutter_radius_mm * i / (profile_steps - 1);
        s.table[i] = static_cast<float>(lowerSurface(body, r));
      }
      break;
  }
  s.rim = s.surface(s.radius);
  return s;
}

}  // namespace provecut
