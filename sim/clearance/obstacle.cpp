#include "sim/clearance/obstacle.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace provecut::clearance {

namespace {

bool isConvex(const std::vector<SetupPoint2>& c) {
  const std::size_t n = c.size();
  if (n < 3) return false;
  double turned = 0;
  for (std::size_t i = 0; i < n; ++i) {
    const Vec2 in = c[(i + 1) % n] - c[i], out = c[(i + 2) % n] - c[(i + 1) % n];
    const double turn = cross(in, out);
    // No slack: a flat corner that rounding bends inward only makes us take the general, slower way.
    if (turn < 0 || (turn == 0 && dot(in, out) < 0)) return false;
    turned += std::atan2(turn, dot(in, out));
  }
  return turned < 7;  // once round, not twice
}

}  // namespace

Obstacle obstacle(const HoldDown& hold_down, double stock_top_mm) {
  Obstacle o;
  o.top_mm = stock_top_mm + hold_down.top_mm;
  if (hold_down.diameter_mm > 0) {
    o.radius_mm = hold_down.diameter_mm / 2;
    o.edges.push_back({hold_down.at_mm, hold_down.at_mm});
  } else {
    const std::vector<SetupPoint2> corners = footprint(hold_down);
    for (std::size_t i = 0; i < corners.size(); ++i) o.edges.push_back({corners[i], corners[(i + 1) % corners.size()]});
    o.convex = isConvex(corners);
  }
  constexpr double far = std::numeric_limits<double>::infinity();
  o.low = {far, far};
  o.high = {-far, -far};
  for (const Edge& e : o.edges) {
    o.low = {std::min(o.low.x, e.a.x - o.radius_mm), std::min(o.low.y, e.a.y - o.radius_mm)};
    o.high = {std::max(o.high.x, e.a.x + o.radius_mm), std::max(o.high.y, e.a.y + o.radius_mm)};
  }
  return o;
}

Obstacle shifted(const Obstacle& o, Vec2 by) {
  Obstacle s = o;
  for (Edge& e : s.edges) e = {e.a + by, e.b + by};
  s.low = o.low + by;
  s.high = o.high + by;
  return s;
}

SegmentPoint fromEdge(const Edge& edge, SetupPoint2 p) {
  const Vec2 along = edge.b - edge.a;
  const double square = dot(along, along);
  const double k = square > 0 ? std::clamp(dot(p - edge.a, along) / square, 0.0, 1.0) : 0.0;
  const Vec2 off = p - (edge.a + along * k);
  const double d = std::sqrt(dot(off, off));
  return {d, d > 0 ? off * (1 / d) : Vec2{}};
}

bool covers(const Obstacle& o, SetupPoint2 p) {
  if (o.radius_mm > 0) return length(p - o.edges.front().a) <= o.radius_mm;
  int winding = 0;  // so that an outline that crosses itself covers all that it goes round
  for (const Edge& e : o.edges) {
    if ((e.a.y <= p.y) == (e.b.y <= p.y)) continue;
    const double side = cross(e.b - e.a, p - e.a);
    if (e.a.y <= p.y) {
      winding += side > 0;
    } else {
      winding -= side < 0;
    }
  }
  return winding != 0;
}

double signedDistance(const Obstacle& o, SetupPoint2 p) {
  double nearest = std::numeric_limits<double>::infinity();
  for (const Edge& e : o.edges) nearest = std::min(nearest, fromEdge(e, p).distance);
  if (o.radius_mm > 0) return nearest - o.radius_mm;
  return covers(o, p) ? -nearest : nearest;
}

double distance(const Obstacle& o, SetupPoint2 p) {
  return std::max(0.0, signedDistance(o, p));
}

bool footprintsOverlap(const Obstacle& a, const Obstacle& b) {
  if (a.low.x >= b.high.x || b.low.x >= a.high.x || a.low.y >= b.high.y || b.low.y >= a.high.y) return false;
  // One within the other shows at any of its points, else the outlines cross.
  if (covers(a, b.edges.front().a) || covers(b, a.edges.front().a)) return true;
  for (const Edge& e : a.edges) {
    for (const Edge& f : b.edges) {
      const double side_a = cross(e.b - e.a, f.a - e.a), side_b = cross(e.b - e.a, f.b - e.a);
      const double side_c = cross(f.b - f.a, e.a - f.a), side_d = cross(f.b - f.a, e.b - f.a);
      if (side_a * side_b < 0 && side_c * side_d < 0) return true;
      const double apart = std::min(
          {fromEdge(e, f.a).distance, fromEdge(e, f.b).distance, fromEdge(f, e.a).distance, fromEdge(f, e.b).distance});
      if (apart < a.radius_mm + b.radius_mm) return true;
    }
  }
  return false;
}

}  // namespace provecut::clearance
