#include "sim/path/path.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "parser/base/parallel_frames.h"
#include "parser/program/plane_axes.h"

namespace provecut {

namespace {

constexpr double full_turn = 2 * std::numbers::pi;

PathPiece line(SetupPoint from, SetupPoint to) {
  PathPiece p;
  p.start = from;
  p.end = to;
  return p;
}

PathPiece arcOf(const Motion& m, SetupPoint work_zero) {
  PathPiece p = line(workToSetup(work_zero, m.start), workToSetup(work_zero, m.end));
  const PlaneAxes axes = axesOf(m.plane);
  p.plane = m.plane;
  p.centre = workToSetup(inPlane(work_zero, axes), m.centre);
  // From the unshifted numbers: the angles do not depend on where the work zero lies.
  const Vec2 from = inPlane(m.start, axes) - m.centre, to = inPlane(m.end, axes) - m.centre;
  p.radius0 = length(from);
  p.radius1 = length(to);
  if (p.radius0 <= 0 && p.radius1 <= 0) return p;
  p.arc = true;
  p.angle0 = std::atan2(from.y, from.x);
  const bool ccw = m.kind == MotionKind::arc_ccw;
  double sweep = from == to ? 0 : std::atan2(cross(from, to), dot(from, to));
  if (ccw && sweep <= 0) sweep += full_turn;
  if (!ccw && sweep >= 0) sweep -= full_turn;
  if (m.turns > 1) sweep += (ccw ? full_turn : -full_turn) * (m.turns - 1);
  p.sweep = sweep;
  return p;
}

void addDogleg(Path& path, SetupPoint from, SetupPoint to, Vec3 rate) {
  const Vec3 way = to - from;
  const auto timeOf = [](double distance, double speed) { return speed > 0 ? std::fabs(distance) / speed : 0.0; };
  const Vec3 time{timeOf(way.x, rate.x), timeOf(way.y, rate.y), timeOf(way.z, rate.z)};
  std::array<double, 3> turns{time.x, time.y, time.z};
  std::sort(turns.begin(), turns.end());
  const auto axis = [](double a, double d, double needed, double now) {
    return needed <= now ? a + d : a + d * (now / needed);
  };
  SetupPoint at = from;
  for (std::size_t i = 0; i < turns.size(); ++i) {
    const double now = turns[i];
    if (now <= 0 || (i > 0 && now == turns[i - 1])) continue;
    const bool last = now == turns.back();
    const SetupPoint next = last ? to
                                 : SetupPoint{axis(from.x, way.x, time.x, now), axis(from.y, way.y, time.y, now),
                                              axis(from.z, way.z, time.z, now)};
    path.pieces[path.count++] = line(at, next);
    at = next;
  }
}

}  // namespace

Path pathOf(const Motion& motion, SetupPoint work_zero, const Machine& machine) {
  Path path;
  if (motion.kind == MotionKind::dwell) return path;
  const SetupPoint from = workToSetup(work_zero, motion.start), to = workToSetup(work_zero, motion.end);
  if (motion.kind == MotionKind::rapid && machine.rapids == Rapids::independent) {
    addDogleg(path, from, to, machine.max_rate_mm_min);
  }
  if (path.count == 0) {
    path.pieces[0] = isArc(motion) ? arcOf(motion, work_zero) : line(from, to);
    path.count = 1;
  }
  return path;
}

SetupPoint pointAt(const PathPiece& p, double t) {
  if (t <= 0) return p.start;
  if (t >= 1) return p.end;
  if (!p.arc) return p.start + (p.end - p.start) * t;
  const PlaneAxes axes = axesOf(p.plane);
  const double radius = p.radius0 + (p.radius1 - p.radius0) * t, angle = p.angle0 + p.sweep * t;
  SetupPoint at;
  component(at, axes.first) = p.centre.x + radius * std::cos(angle);
  component(at, axes.second) = p.centre.y + radius * std::sin(angle);
  const double from = component(p.start, axes.normal), to = component(p.end, axes.normal);
  component(at, axes.normal) = from + (to - from) * t;
  return at;
}

double chordError(const PathPiece& p, double angle) {
  if (!p.arc) return 0;
  // In polar form P'' = -ρ e_r + 2 ρ' e_θ, with ρ' even; the part along the normal is even too and adds
  // nothing.
  const double bend = std::max(p.radius0, p.radius1) + 2 * std::fabs((p.radius1 - p.radius0) / p.sweep);
  return bend * angle * angle / 8;
}

SetupBox boundsOf(const PathPiece& p) {
  SetupBox box;
  box.add(p.start);
  box.add(p.end);
  if (p.arc) {
    const PlaneAxes axes = axesOf(p.plane);
    const double r = std::max(p.radius0, p.radius1);
    SetupPoint low = p.start, high = p.start;
    component(low, axes.first) = p.centre.x - r;
    component(low, axes.second) = p.centre.y - r;
    component(high, axes.first) = p.centre.x + r;
    component(high, axes.second) = p.centre.y + r;
    box.add(low);
    box.add(high);
  }
  return box;
}

}  // namespace provecut
