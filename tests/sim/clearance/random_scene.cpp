#include "tests/sim/clearance/random_scene.h"

#include <algorithm>
#include <cmath>
#include <sstream>

namespace provecut::scene {

namespace {

double between(std::mt19937& random, double a, double b) {
  return std::uniform_real_distribution<double>(a, b)(random);
}
int oneOf(std::mt19937& random, int n) {
  return std::uniform_int_distribution<int>(0, n - 1)(random);
}

Tool randomTool(std::mt19937& random) {
  Tool t = flatTool(between(random, 1, 16));
  t.shape = static_cast<ToolShape>(oneOf(random, 8));
  t.flute_length_mm = between(random, 5, 40);
  t.shank_diameter_mm = between(random, 3, 14);
  const double r = t.diameter_mm / 2;
  t.corner_radius_mm = r * between(random, 0.1, 0.9);
  t.angle_deg = between(random, 20, 150);
  t.tip_diameter_mm = oneOf(random, 2) ? 0 : between(random, 0.1, 0.8);
  t.tip_radius_mm = r * between(random, 0.1, 0.6);
  t.taper_deg = between(random, 2, 20);
  if (t.shape == ToolShape::form) {
    // A dovetail or a T-slot cutter.
    t.profile_mm = oneOf(random, 2)
                       ? std::vector<Vec2>{{0, 0}, {r, 0}, {r * 0.5, r * 1.4}}
                       : std::vector<Vec2>{{0, 0}, {r * 0.8, 0}, {r, 1}, {r, 3}, {r * 0.4, 3}, {r * 0.4, 9}};
  }
  t.stickout_mm = 70 + between(random, 0, 20);
  return t;
}

HoldDown randomHoldDown(std::mt19937& random) {
  const double top = between(random, 0, 25);
  const SetupPoint2 at{between(random, -20, 20), between(random, -20, 20)};
  switch (oneOf(random, 4)) {
    case 0:
      return roundOne(at, between(random, 2, 25), top);
    case 1:
      return box(at, {between(random, 4, 60), between(random, 4, 25)}, between(random, 0, 360), top);
    default:
      break;
  }
  // A star about `at`, its corners at even or uneven radii: convex or not.
  const int n = 3 + oneOf(random, 6);
  const bool even = oneOf(random, 2) == 0;
  const double size = between(random, 5, 25), turn = between(random, 0, 7);
  std::vector<SetupPoint2> c;
  for (int i = 0; i < n; ++i) {
    const double a = turn + 2 * M_PI * (i + (even ? 0 : between(random, -0.3, 0.3))) / n;
    const double r = even ? size : size * between(random, 0.3, 1);
    c.push_back(at + Vec2{r * std::cos(a), r * std::sin(a)});
  }
  if (oneOf(random, 2) == 0) std::reverse(c.begin(), c.end());
  return outlined(c, top);
}

Motion randomMotion(std::mt19937& random) {
  const auto point = [&] {
    return WorkPoint{between(random, -60, 60), between(random, -60, 60), between(random, -60, 40)};
  };
  const WorkPoint a = point();
  WorkPoint b = point();
  const int kind = oneOf(random, 8);
  if (kind == 0) return line(a, {b.x, b.y, a.z});
  if (kind == 1) return line(a, {a.x, a.y, b.z}, MotionKind::rapid);
  if (kind == 2) return line(a, b);
  if (kind == 3) return line(a, a + (b - a) * 0.01);
  const MotionKind way = oneOf(random, 2) ? MotionKind::arc_cw : MotionKind::arc_ccw;
  const Plane plane = kind < 6 ? Plane::xy : (kind == 6 ? Plane::zx : Plane::yz);
  const WorkPoint2 centre = plane == Plane::xy   ? WorkPoint2{between(random, -40, 40), between(random, -40, 40)}
                            : plane == Plane::zx ? WorkPoint2{between(random, -30, 40), between(random, -40, 40)}
                                                 : WorkPoint2{between(random, -40, 40), between(random, -30, 40)};
  const double r = between(random, 1, 45), from = between(random, 0, 7), to = between(random, 0, 7);
  // Now and then the end lies a little off the circle, as rounding on export makes it.
  const double r_end = oneOf(random, 3) ? r : r * (1 + between(random, -1e-4, 1e-4));
  const WorkPoint2 u = centre + Vec2{r * std::cos(from), r * std::sin(from)};
  const WorkPoint2 v = centre + Vec2{r_end * std::cos(to), r_end * std::sin(to)};
  const double rise = oneOf(random, 3) == 0 ? 0 : between(random, -20, 20);
  const int turns = oneOf(random, 6) == 0 ? 3 : 1;
  if (plane == Plane::xy) return arc(way, plane, {u.x, u.y, a.z}, {v.x, v.y, a.z + rise}, centre, turns);
  if (plane == Plane::zx) return arc(way, plane, {u.y, a.y, u.x}, {v.y, a.y + rise, v.x}, centre, turns);
  return arc(way, plane, {a.x, u.x, u.y}, {a.x + rise, v.x, v.y}, centre, turns);
}

}  // namespace

RandomScene randomScene(std::mt19937& random) {
  RandomScene s{randomTool(random), randomHoldDown(random), randomMotion(random), {}};
  std::ostringstream text;
  text.precision(17);
  text << "tool shape " << static_cast<int>(s.tool.shape) << " diameter " << s.tool.diameter_mm << "; hold-down at "
       << s.hold_down.at_mm.x << ' ' << s.hold_down.at_mm.y << " diameter " << s.hold_down.diameter_mm << " corners "
       << s.hold_down.outline_mm.size() << " top " << s.hold_down.top_mm << "; move kind "
       << static_cast<int>(s.motion.kind) << " plane " << static_cast<int>(s.motion.plane) << " from "
       << s.motion.start.x << ' ' << s.motion.start.y << ' ' << s.motion.start.z << " to " << s.motion.end.x << ' '
       << s.motion.end.y << ' ' << s.motion.end.z << " centre " << s.motion.centre.x << ' ' << s.motion.centre.y
       << " turns " << s.motion.turns;
  s.text = text.str();
  return s;
}

}  // namespace provecut::scene
