#include "parser/program/arc.h"

#include <cmath>
#include <numbers>

#include "parser/program/plane_axes.h"

namespace provecut {

namespace {
constexpr double turn = 2 * std::numbers::pi;
}

double sweepOf(const Motion& arc) {
  const PlaneAxes axes = axesOf(arc.plane);
  const Vec2 from = inPlane(arc.start, axes) - arc.centre, to = inPlane(arc.end, axes) - arc.centre;
  const double extra = turn * (arc.turns > 1 ? arc.turns - 1 : 0);
  // Whatever sign rounding gives the angle then.
  if (length(to - from) < 1e-6) return turn + extra;
  double angle = std::atan2(cross(from, to), dot(from, to));
  if (arc.kind == MotionKind::arc_cw) angle = -angle;
  if (angle <= 0) angle += turn;
  return angle + extra;
}

double arcLength(const Motion& arc) {
  const PlaneAxes axes = axesOf(arc.plane);
  const double radius =
      (length(inPlane(arc.start, axes) - arc.centre) + length(inPlane(arc.end, axes) - arc.centre)) / 2;
  const double rise = component(arc.end, axes.normal) - component(arc.start, axes.normal);
  return std::hypot(radius * sweepOf(arc), rise);
}

std::optional<RadiusCentre> centreFromRadius(WorkPoint2 start, WorkPoint2 end, double radius, bool clockwise) {
  const Vec2 chord = end - start;
  const double half = length(chord) / 2;
  if (half == 0) return std::nullopt;
  const double size = std::abs(radius);
  const WorkPoint2 between = middle(start, end);
  if (size <= half) return RadiusCentre{between, half - size};
  const double rise = std::sqrt((size - half) * (size + half));
  // Left of the chord for a short counter-clockwise arc; each of "clockwise" and "long way" changes the side.
  const double side = clockwise == (radius > 0) ? -1 : 1;
  const Vec2 left{-chord.y / (2 * half), chord.x / (2 * half)};
  return RadiusCentre{between + left * (side * rise), 0};
}

}  // namespace provecut
