#include "sim/clock/path_limits.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "parser/base/check.h"
#include "parser/program/arc.h"
#include "parser/program/plane_axes.h"

namespace provecut::clock {
namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr double still_mm = 1e-6;  // below any machine's step; such a move has no direction worth the name

// Kept where squares and quotients neither overflow nor vanish.
double usable(double limit) {
  CHECK(limit > 0);
  return std::clamp(limit, 1e-9, 1e9);
}

Vec3 usable(Vec3 limit) {
  return {usable(limit.x), usable(limit.y), usable(limit.z)};
}

// Highest value along a direction whose components are at most `share` of it.
double along(const Vec3& limit, const Vec3& share) {
  double best = infinite;
  if (share.x > 0) best = std::min(best, limit.x / share.x);
  if (share.y > 0) best = std::min(best, limit.y / share.y);
  if (share.z > 0) best = std::min(best, limit.z / share.z);
  return best;
}

Vec3 magnitude(const Vec3& v) {
  return {std::fabs(v.x), std::fabs(v.y), std::fabs(v.z)};
}

void limitSpeed(MovePath& path, double speed_mm_s, SpeedLimit limit) {
  if (speed_mm_s >= path.speed_mm_s) return;
  path.speed_mm_s = speed_mm_s;
  path.limit = limit;
}

MovePath startPath(double length_mm, double feed_mm_s) {
  MovePath path;
  path.length_mm = length_mm;
  path.speed_mm_s = infinite;
  path.limit = SpeedLimit::axis_rate;
  if (feed_mm_s > 0) limitSpeed(path, std::max(feed_mm_s, 1e-9), SpeedLimit::feed);
  return path;
}

MovePath linePath(const Motion& m, const AxisLimits& axes, double feed_mm_s) {
  const Vec3 way = m.end - m.start;
  const double length_mm = length(way);
  if (!(length_mm > still_mm) || !std::isfinite(length_mm)) return {};
  MovePath path = startPath(length_mm, feed_mm_s);
  path.first = path.last = way * (1 / length_mm);
  const Vec3 share = magnitude(path.first);
  limitSpeed(path, along(axes.rate_mm_s, share), SpeedLimit::axis_rate);
  path.acceleration_mm_s2 = along(axes.acceleration_mm_s2, share);
  return path;
}

// A vector given in an arc's plane and along its normal, in XYZ order.
Vec3 fromPlane(Plane plane, Vec2 p, double along_normal) {
  switch (plane) {
    case Plane::zx:
      return {p.y, along_normal, p.x};
    case Plane::yz:
      return {along_normal, p.x, p.y};
    case Plane::xy:
      break;
  }
  return {p.x, p.y, along_normal};
}

// Max |component| of a unit vector that turns from a to b: 1 where it passes along the axis.
double maxOf(double a, double b, double other_a, double other_b, bool half_turn_or_more) {
  if (half_turn_or_more || other_a * other_b < 0) return 1;
  return std::max(std::fabs(a), std::fabs(b));
}

MovePath arcPath(const Motion& m, const AxisLimits& axes, double feed_mm_s) {
  const PlaneAxes plane = axesOf(m.plane);
  const Vec2 from = inPlane(m.start, plane) - m.centre;
  const Vec2 to = inPlane(m.end, plane) - m.centre;
  const double from_r = length(from), to_r = length(to);
  const double radius = 0.5 * (from_r + to_r);
  if (!(from_r > still_mm) || !(to_r > still_mm)) return linePath(m, axes, feed_mm_s);
  const double sweep = sweepOf(m);
  const double rise = component(m.end, plane.normal) - component(m.start, plane.normal);
  const double round_mm = radius * sweep;
  const double length_mm = std::hypot(round_mm, rise);
  if (!(length_mm > still_mm) || !std::isfinite(length_mm)) return {};

  MovePath path = startPath(length_mm, feed_mm_s);
  const double round_share = round_mm / length_mm, rise_share = rise / length_mm;
  const Vec2 n0 = from * (1 / from_r), n1 = to * (1 / to_r);
  const double turn = m.kind == MotionKind::arc_ccw ? round_share : -round_share;
  path.first = fromPlane(m.plane, Vec2{-n0.y, n0.x} * turn, rise_share);
  path.last = fromPlane(m.plane, Vec2{-n1.y, n1.x} * turn, rise_share);

  const bool half_turn = sweep >= std::numbers::pi;
  const Vec2 inward{maxOf(n0.x, n1.x, n0.y, n1.y, half_turn), maxOf(n0.y, n1.y, n0.x, n1.x, half_turn)};
  const Vec3 travel = fromPlane(m.plane, Vec2{inward.y, inward.x} * round_share, std::fabs(rise_share));
  limitSpeed(path, along(axes.rate_mm_s, travel), SpeedLimit::axis_rate);
  // A helix speeds up as the circle under it does: what its climb would let it gain (cos of the climb) is not taken.
  const Vec3 gain = fromPlane(m.plane, Vec2{inward.y, inward.x}, std::fabs(rise_share));
  path.acceleration_mm_s2 = along(axes.acceleration_mm_s2, gain);
  double inward_mm_s2 = along(axes.acceleration_mm_s2, fromPlane(m.plane, inward, 0));
  if (axes.arcs_share || axes.arcs_split) {
    // One length for the vector of both accelerations, whatever its direction in the plane.
    inward_mm_s2 = along(axes.acceleration_mm_s2, fromPlane(m.plane, Vec2{1, 1}, 0));
    path.acceleration_mm_s2 = along(axes.acceleration_mm_s2, fromPlane(m.plane, Vec2{1, 1}, std::fabs(rise_share)));
    if (axes.arcs_split) {
      // 3 : 4 : 5: towards the centre a circle asks for most of it.
      inward_mm_s2 *= 0.8;
      path.acceleration_mm_s2 *= 0.6;
    } else {
      path.bend2_mm2_s2 = inward_mm_s2 * radius / (round_share * round_share);
    }
  }
  limitSpeed(path, std::sqrt(inward_mm_s2 * radius) / round_share, SpeedLimit::centripetal);
  return path;
}

// Max |component| of the normal on the corner's arc, times the sine of the turn. `e` is the change of direction's
// component; where the direction's component changes sign, the normal's own extreme lies inside the arc.
double normalShare(double before, double after, double e, double one_minus_cos) {
  if (before * after < 0) return std::sqrt(std::max(0.0, e * e + 2 * before * after * one_minus_cos));
  return std::max(std::fabs(e + one_minus_cos * before), std::fabs(e - one_minus_cos * after));
}

}  // namespace

AxisLimits axisLimits(const Machine& machine) {
  AxisLimits axes;
  axes.rate_mm_s = usable(machine.max_rate_mm_min * (1.0 / 60));
  axes.acceleration_mm_s2 = usable(machine.acceleration_mm_s2);
  const Vec3& a = axes.acceleration_mm_s2;
  axes.least_acceleration_mm_s2 = std::min({a.x, a.y, a.z});
  const bool shared = machine.arc_acceleration == ArcAcceleration::shared;
  axes.arcs_share = shared && machine.jerk_mm_s3 <= 0;
  axes.arcs_split = shared && machine.jerk_mm_s3 > 0;
  return axes;
}

MovePath movePath(const Motion& motion, const AxisLimits& axes, double feed_mm_s) {
  if (motion.kind == MotionKind::dwell) return {};
  return isArc(motion) ? arcPath(motion, axes, feed_mm_s) : linePath(motion, axes, feed_mm_s);
}

double cornerSpeed2(const Vec3& before, const Vec3& after, const AxisLimits& axes, double deviation_mm,
                    double room_mm) {
  const Vec3 e = after - before;
  const double d2 = dot(e, e);
  if (d2 < 1e-24) return infinite;
  const double s2 = std::max(0.0, 1 - 0.25 * d2);
  if (s2 < 1e-18) return 0;
  const double s = std::sqrt(s2);
  // 1 - s = (d²/4) / (1 + s), without the difference of nearly equal numbers.
  // Half the included angle has the tangent s / (d/2), so an arc that starts `room_mm` before the corner has that
  // radius.
  const double radius_mm = std::min(deviation_mm * s * (1 + s) / (0.25 * d2), room_mm * s / (0.5 * std::sqrt(d2)));
  const double sin_turn = std::sqrt(d2 * s2);
  const double one_minus_cos = 0.5 * d2;
  const Vec3 share{normalShare(before.x, after.x, e.x, one_minus_cos),
                   normalShare(before.y, after.y, e.y, one_minus_cos),
                   normalShare(before.z, after.z, e.z, one_minus_cos)};
  return along(axes.acceleration_mm_s2, share * (1 / sin_turn)) * radius_mm;
}

}  // namespace provecut::clock
