#include "parser/interpreter/offset_curve.h"

#include <cmath>
#include <numbers>
#include <vector>

namespace provecut::interpreter {

namespace {

constexpr double slack_mm = 1e-7;

bool onCurve(const OffsetCurve& c, WorkPoint2 p) {
  if (c.turn == 0) {
    const Vec2 along = c.end - c.start;
    const double size = length(along);
    if (size == 0) return length(p - c.start) <= slack_mm;
    const double at = dot(p - c.start, along) / size;
    return at >= -slack_mm && at <= size + slack_mm;
  }
  const Vec2 from = c.start - c.centre, to = c.end - c.centre, here = p - c.centre;
  const double radius = length(from);
  const auto angle = [&](Vec2 v) {  // from the start, in the direction of travel, [0, 2π)
    double a = std::atan2(cross(from, v), dot(from, v)) * c.turn;
    if (a < 0) a += 2 * std::numbers::pi;
    return a;
  };
  const double slack = slack_mm / (radius > 0 ? radius : 1);
  double sweep = angle(to);
  if (sweep <= slack) sweep = 2 * std::numbers::pi;
  const double at = angle(here);
  return at <= sweep + slack || at >= 2 * std::numbers::pi - slack;
}

void lineLine(const OffsetCurve& a, const OffsetCurve& b, std::vector<WorkPoint2>& points) {
  const Vec2 u = a.end - a.start, v = b.end - b.start;
  const double d = cross(u, v);
  if (d == 0) return;
  points.push_back(a.start + u * (cross(b.start - a.start, v) / d));
}

void lineArc(const OffsetCurve& line, const OffsetCurve& arc, std::vector<WorkPoint2>& points) {
  const Vec2 u = line.end - line.start;
  const double size = length(u), radius = length(arc.start - arc.centre);
  if (size == 0) return;
  const Vec2 along = u * (1 / size);
  const WorkPoint2 foot = line.start + along * dot(arc.centre - line.start, along);
  const double off = length(foot - arc.centre);
  if (off > radius + slack_mm) return;
  const double half = off < radius ? std::sqrt((radius - off) * (radius + off)) : 0;
  points.push_back(foot - along * half);
  points.push_back(foot + along * half);
}

void arcArc(const OffsetCurve& a, const OffsetCurve& b, std::vector<WorkPoint2>& points) {
  const double ra = length(a.start - a.centre), rb = length(b.start - b.centre);
  const Vec2 between = b.centre - a.centre;
  const double d = length(between);
  if (d == 0 || d > ra + rb + slack_mm || d < std::abs(ra - rb) - slack_mm) return;
  const Vec2 along = between * (1 / d);
  const double at = (d * d + (ra - rb) * (ra + rb)) / (2 * d);
  const double half = std::abs(at) < ra ? std::sqrt((ra - at) * (ra + at)) : 0;
  const WorkPoint2 foot = a.centre + along * at;
  const Vec2 across{-along.y, along.x};
  points.push_back(foot + across * half);
  points.push_back(foot - across * half);
}

}  // namespace

std::optional<WorkPoint2> meetingPoint(const OffsetCurve& before, const OffsetCurve& after, WorkPoint2 corner) {
  std::vector<WorkPoint2> points;
  if (before.turn == 0 && after.turn == 0) lineLine(before, after, points);
  if (before.turn == 0 && after.turn != 0) lineArc(before, after, points);
  if (before.turn != 0 && after.turn == 0) lineArc(after, before, points);
  if (before.turn != 0 && after.turn != 0) arcArc(before, after, points);
  std::optional<WorkPoint2> nearest;
  for (const WorkPoint2 p : points) {
    if (!onCurve(before, p) || !onCurve(after, p)) continue;
    if (!nearest || length(p - corner) < length(*nearest - corner)) nearest = p;
  }
  return nearest;
}

}  // namespace provecut::interpreter
