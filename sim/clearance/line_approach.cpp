#include "sim/clearance/line_approach.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "sim/clearance/corner_gap.h"
#include "sim/numeric/branch_and_bound.h"
#include "sim/numeric/golden_section.h"

namespace provecut::clearance {

namespace {

constexpr double line_precision_mm = 1e-10;

SetupPoint at(const Line& line, double t) {
  if (t >= 1) return line.end;
  return line.start + (line.end - line.start) * t;
}

struct Sloped {
  double value, slope;
};

// The gap along the line to one edge, widened by `radius`, and its slope in t: a convex function, because
// piece and edge are convex and one is carried along a straight line.
struct EdgeGap {
  const Line& line;
  const BodyPiece& piece;
  const Edge& edge;
  double radius, top;

  Sloped operator()(double t) const {
    const SetupPoint tip = at(line, t);
    const Vec3 way = line.end - line.start;
    const SegmentPoint from = fromEdge(edge, flat(tip));
    const double d = std::max(0.0, from.distance - radius);
    const CornerGap gap = cornerGap(piece, d, top - tip.z);
    const double d_slope = d > 0 || radius <= 0 ? dot(from.away, flat(way)) : 0;
    return {gap.distance, gap.by_d * d_slope - gap.by_h * way.z};
  }
};

// The lowest value of a convex function on 0 … 1. The tangents at both ends of the bracket bound it from
// below; the point where they cross is tried next, or the middle where that would shrink the bracket too
// slowly.
template <class Function>
Nearest lowestOfConvex(const Function& f, double enough) {
  double a = 0, b = 1;
  Sloped fa = f(a);
  if (fa.value <= 0 || fa.slope >= 0) return {fa.value, a};
  Sloped fb = f(b);
  if (fb.value <= 0 || fb.slope <= 0) return {fb.value, b};
  bool halve = false;
  for (int i = 0; i < 200; ++i) {
    const double width = b - a;
    const double crossing = (fb.value - fa.value - fb.slope * width) / (fa.slope - fb.slope);
    const double low = fa.value + fa.slope * crossing, best = std::min(fa.value, fb.value);
    if (low > enough) return {low, a + crossing};
    if (best - low <= line_precision_mm) break;
    const double step = halve ? width / 2 : std::clamp(crossing, 0.01 * width, 0.99 * width);
    const double t = a + step;
    if (!(a < t && t < b)) break;
    const Sloped ft = f(t);
    if (ft.value <= 0 || ft.slope == 0) return {ft.value, t};
    (ft.slope < 0 ? a : b) = t;
    (ft.slope < 0 ? fa : fb) = ft;
    halve = b - a > width / 2;
  }
  return fa.value <= fb.value ? Nearest{fa.value, a} : Nearest{fb.value, b};
}

template <class Function>
Depth highestOfConcave(const Function& g, double a, double b) {
  const Max best = maxOfConcave(g, a, b, 1e-13);
  return {best.value, best.at};
}

// Nearest point, seen from above, of the line to one edge.
Nearest betweenSegments(const Line& line, const Edge& edge) {
  const SetupPoint2 p = flat(line.start);
  const Vec2 way = flat(line.end) - p, along = edge.b - edge.a;
  Nearest best{fromEdge(edge, p).distance, 0};
  const auto better = [&best](double distance, double t) {
    if (distance < best.distance) best = {distance, t};
  };
  better(fromEdge(edge, flat(line.end)).distance, 1);
  const double square = dot(way, way);
  if (square > 0) {
    const double turn = cross(way, along);
    if (turn != 0) {
      const double t = cross(edge.a - p, along) / turn, k = cross(edge.a - p, way) / turn;
      if (t >= 0 && t <= 1 && k >= 0 && k <= 1) return {0, t};
    }
    for (const SetupPoint2 corner : {edge.a, edge.b}) {
      const double t = std::clamp(dot(corner - p, way) / square, 0.0, 1.0);
      const Vec2 off = p + way * t - corner;
      better(std::sqrt(dot(off, off)), t);
    }
  }
  return best;
}

// Part of 0 … 1 in which the tip is at or below `height`; empty (a > b) where it never is.
struct Span {
  double a, b;
};
Span below(const Line& line, double height) {
  const double z0 = line.start.z, z1 = line.end.z;
  if (z0 <= height && z1 <= height) return {0, 1};
  if (z0 > height && z1 > height) return {1, 0};
  const double t = std::clamp((z0 - height) / (z0 - z1), 0.0, 1.0);
  return z0 <= height ? Span{0, t} : Span{t, 1};
}

// A footprint that is not convex: outside, the depth is the largest over the edges, each of them concave;
// inside it is bounded by how far the tip can get in an interval.
Depth deepestInAnyOutline(const Line& line, const BodyPiece& piece, const Obstacle& o, Span span) {
  Depth best{-infinity, span.a};
  const auto take = [&best](Depth d) {
    if (d.overlap > best.overlap) best = d;
  };
  const auto radiusAt = [&](double t) { return radiusUpTo(piece, std::max(piece.z0, o.top_mm - at(line, t).z)); };
  for (const Edge& e : o.edges) {
    take(highestOfConcave([&](double t) { return radiusAt(t) - fromEdge(e, flat(at(line, t))).distance; }, span.a,
                          span.b));
  }
  const double reach = length(flat(line.end - line.start)) * (span.b - span.a);
  const double outside = best.overlap;
  const auto bound = [&](double a, double b, double) {
    const double ta = span.a + a * (span.b - span.a), tb = span.a + b * (span.b - span.a), t = (ta + tb) / 2;
    const double depth = -signedDistance(o, flat(at(line, t)));
    const double nearest_axis = depth + reach * (b - a) / 2;
    // Wholly outside: the edges have said it.
    if (nearest_axis < 0) return Bounded{-outside, -outside, a};
    return Bounded{-(std::max(radiusAt(ta), radiusAt(tb)) + nearest_axis), -(radiusAt(t) + depth), (a + b) / 2};
  };
  const Bounded inside = lowest(bound, 1e-7, infinity, 20'000);
  take({-inside.value, span.a + inside.t * (span.b - span.a)});
  return best;
}

}  // namespace

double gapAt(SetupPoint tip, const BodyPiece& piece, const Obstacle& o) {
  return cornerGap(piece, distance(o, flat(tip)), o.top_mm - tip.z).distance;
}

double depthAt(SetupPoint tip, const BodyPiece& piece, const Obstacle& o, double slack) {
  const double h = o.top_mm - tip.z;
  return radiusUpTo(piece, h < piece.z0 && h + slack >= piece.z0 ? piece.z0 : h) - signedDistance(o, flat(tip));
}

Nearest outlineDistance(const Line& line, const Obstacle& o) {
  Nearest best{infinity, 0};
  for (const Edge& e : o.edges) {
    const Nearest n = betweenSegments(line, e);
    if (n.distance < best.distance) best = n;
  }
  return best;
}

Nearest nearest(const Line& line, const BodyPiece& piece, const Obstacle& o, double enough) {
  const double lowest_z = std::min(line.start.z, line.end.z);
  const bool level = line.start.z == line.end.z;
  Nearest best{infinity, 0};
  // Over the footprint only the height counts, and it is lowest at an end or where the line crosses an edge.
  if (o.radius_mm <= 0) {
    if (covers(o, flat(line.start))) best = {cornerGap(piece, 0, o.top_mm - line.start.z).distance, 0};
    if (covers(o, flat(line.end))) {
      const double gap = cornerGap(piece, 0, o.top_mm - line.end.z).distance;
      if (gap < best.distance) best = {gap, 1};
    }
  }
  for (const Edge& e : o.edges) {
    if (best.distance <= 0) return best;
    const Nearest over = betweenSegments(line, e);
    const double d = std::max(0.0, over.distance - o.radius_mm);
    const double low = cornerGap(piece, d, o.top_mm - lowest_z).distance;
    if (low >= best.distance) continue;
    if (low > enough || level) {
      best = {low, over.t};
      continue;
    }
    const Nearest n = lowestOfConvex(EdgeGap{line, piece, e, o.radius_mm, o.top_mm}, std::min(enough, best.distance));
    if (n.distance < best.distance) best = n;
  }
  return best;
}

std::optional<double> firstContact(const Line& line, const BodyPiece& piece, const Obstacle& o, double touch) {
  if (gapAt(line.start, piece, o) <= touch) return 0.0;
  std::optional<double> first;
  const auto take = [&first](double t) {
    if (!first || t < *first) first = t;
  };
  // Coming down on it from over it.
  const Span low = below(line, o.top_mm - piece.z0 + touch);
  if (low.a <= low.b && covers(o, flat(at(line, low.a)))) take(low.a);
  for (const Edge& e : o.edges) {
    const EdgeGap gap{line, piece, e, o.radius_mm, o.top_mm};
    const Nearest n = lowestOfConvex(gap, touch);
    if (n.distance > touch) continue;
    double apart = 0, touching = n.t;
    while (true) {
      const double t = apart + (touching - apart) / 2;
      if (!(apart < t && t < touching)) break;
      (gap(t).value <= touch ? touching : apart) = t;
    }
    take(touching);
  }
  return first;
}

Depth deepest(const Line& line, const BodyPiece& piece, const Obstacle& o, double slack) {
  const Span span = below(line, o.top_mm - piece.z0 + slack);
  if (span.a > span.b) return {-infinity, 0};
  if (!o.convex) return deepestInAnyOutline(line, piece, o, span);
  const auto depth = [&](double t) {
    const SetupPoint tip = at(line, t);
    // At the ends of the span rounding may leave the height just short of the piece.
    return radiusUpTo(piece, std::max(piece.z0, o.top_mm - tip.z)) - signedDistance(o, flat(tip));
  };
  return highestOfConcave(depth, span.a, span.b);
}

}  // namespace provecut::clearance
