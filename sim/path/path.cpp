#include "sim/path/path.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace provecut {

namespace {

constexpr double full_turn = 2 * std::numbers::pi;

// The plane's own axes: u and v in the plane (from u to v is counter-clockwise), w along its normal.
struct PlaneAxes {
  double Vec3::*u;
  double Vec3::*v;
  double Vec3::*w;
};

PlaneAxes axesOf(Plane plane) {
  switch (plane) {
    case Plane::xy:
      return {&Vec3::x, &Vec3::y, &Vec3::z};
    case Plane::zx:
      return {&Vec3::z, &Vec3::x, &Vec3::y};
    case Plane::yz:
      return {&Vec3::y, &Vec3::z, &Vec3::x};
  }
  return {&Vec3::x, &Vec3::y, &Vec3::z};
}

PathPiece line(Vec3 from, Vec3 to) {
  PathPiece p;
  p.start = from;
  p.end = to;
  return p;
}

PathPiece arcOf(const Motion& m, Vec3 shift) {
  PathPiece p = line(m.start + shift, m.end + shift);
  const PlaneAxes axes = axesOf(m.plane);
  p.plane = m.plane;
  p.centre = m.centre + Vec2{shift.*axes.u, shift.*axes.v};
  // From the unshifted numbers: the angles do not depend on where the work zero lies.
  const Vec2 from = Vec2{m.start.*axes.u, m.start.*axes.v} - m.centre;
  const Vec2 to = Vec2{m.end.*axes.u, m.end.*axes.v} - m.centre;
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

void addDogleg(Path& path, Vec3 from, Vec3 to, Vec3 rate) {
  const Vec3 way = to - from;
  const auto timeOf = [](double distance, double speed) { return speed > 0 ? std::fabs(distance) / speed : 0.0; };
  const Vec3 time{timeOf(way.x, rate.x), timeOf(way.y, rate.y), timeOf(way.z, rate.z)};
  std::array<double, 3> turns{time.x, time.y, time.z};
  std::sort(turns.begin(), turns.end());
  const auto axis = [](double a, double d, double needed, double now) {
    return needed <= now ? a + d : a + d * (now / needed);
  };
  Vec3 at = from;
  for (std::size_t i = 0; i < turns.size(); ++i) {
    const double now = turns[i];
    if (now <= 0 || (i > 0 && now == turns[i - 1])) continue;
    const bool last = now == turns.back();
    const Vec3 next = last ? to
                           : Vec3{axis(from.x, way.x, time.x, now), axis(from.y, way.y, time.y, now),
                                  axis(from.z, way.z, time.z, now)};
    path.pieces[static_cast<std::size_t>(path.count++)] = line(at, next);
    at = next;
  }
}

}  // namespace

Path pathOf(const Motion& motion, Vec3 shift, const Machine& machine) {
  Path path;
  if (motion.kind == MotionKind::dwell) return path;
  const Vec3 from = motion.start + shift, to = motion.end + shift;
  if (motion.kind == MotionKind::rapid && machine.rapids == Rapids::independent) {
    addDogleg(path, from, to, machine.max_rate_mm_min);
  }
  if (path.count == 0) {
    path.pieces[0] = isArc(motion) ? arcOf(motion, shift) : line(from, to);
    path.count = 1;
  }
  return path;
}

Vec3 pointAt(const PathPiece& p, double t) {
  if (t <= 0) return p.start;
  if (t >= 1) return p.end;
  if (!p.arc) return p.start + (p.end - p.start) * t;
  const PlaneAxes axes = axesOf(p.plane);
  const double radius = p.radius0 + (p.radius1 - p.radius0) * t, angle = p.angle0 + p.sweep * t;
  Vec3 at;
  at.*axes.u = p.centre.x + radius * std::cos(angle);
  at.*axes.v = p.centre.y + radius * std::sin(angle);
  at.*axes.w = p.start.*axes.w + (p.end.*axes.w - p.start.*axes.w) * t;
  return at;
}

double chordError(const PathPiece& p, double angle) {
  if (!p.arc) return 0;
  // In polar form P'' = -ρ e_r + 2 ρ' e_θ, with ρ' even; the part along the normal is even too and adds
  // nothing.
  const double bend = std::max(p.radius0, p.radius1) + 2 * std::fabs((p.radius1 - p.radius0) / p.sweep);
  return bend * angle * angle / 8;
}

Box3 boundsOf(const PathPiece& p) {
  Box3 box;
  box.add(p.start);
  box.add(p.end);
  if (p.arc) {
    const PlaneAxes axes = axesOf(p.plane);
    const double r = std::max(p.radius0, p.radius1);
    Vec3 low = p.start, high = p.start;
    low.*axes.u = p.centre.x - r;
    low.*axes.v = p.centre.y - r;
    high.*axes.u = p.centre.x + r;
    high.*axes.v = p.centre.y + r;
    box.add(low);
    box.add(high);
  }
  return box;
}

}  // namespace provecut
