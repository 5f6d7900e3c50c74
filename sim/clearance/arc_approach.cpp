#include "sim/clearance/arc_approach.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "sim/clearance/corner_gap.h"
#include "sim/numeric/branch_and_bound.h"

namespace provecut::clearance {

namespace {

constexpr double full_turn = 2 * std::numbers::pi;
constexpr double arc_precision_mm = 1e-7;

// A part of an arc, from t = a to t = b.
struct Stretch {
  const PathPiece& arc;
  double a, b;
  SetupPoint start, end;

  Stretch(const PathPiece& p, double from, double to)
      : arc(p), a(from), b(to), start(pointAt(p, from)), end(pointAt(p, to)) {}
  double angle() const { return std::fabs(arc.sweep) * (b - a); }
  double error() const { return chordError(arc, angle()); }
  Line chord() const { return {start, end}; }
  double inWhole(double t) const { return a + t * (b - a); }
  // In the other planes the height bends as well, by no more than the chord's error.
  double lowestZ() const { return std::min(start.z, end.z) - (arc.plane == Plane::xy ? 0 : error()); }
};

// A G17 arc seen from above, taken as a circle of its middle radius; the true one is within `off` of it.
struct FlatArc {
  SetupPoint2 centre;
  double radius = 0, off = 0, angle0 = 0, sweep = 0;

  explicit FlatArc(const Stretch& s) {
    const PathPiece& p = s.arc;
    const double from = p.radius0 + (p.radius1 - p.radius0) * s.a, to = p.radius0 + (p.radius1 - p.radius0) * s.b;
    centre = p.centre;
    radius = (from + to) / 2;
    off = std::fabs(to - from) / 2;
    angle0 = p.angle0 + p.sweep * s.a;
    sweep = p.sweep * (s.b - s.a);
  }
  // Share of the sweep at which the arc points in this direction, if it does.
  std::optional<double> shareAt(Vec2 direction) const {
    double turn = std::remainder(std::atan2(direction.y, direction.x) - angle0, full_turn);
    if (sweep < 0) turn = -turn;
    if (turn < 0) turn += full_turn;
    const double whole = std::fabs(sweep);
    if (turn <= whole) return whole > 0 ? turn / whole : 0;
    return std::nullopt;
  }
  SetupPoint2 at(double share) const {
    const double angle = angle0 + sweep * share;
    return centre + Vec2{std::cos(angle), std::sin(angle)} * radius;
  }
};

// Horizontal distance between the arc and an edge; t is the share of the sweep. The lowest is met at an end
// of either, where they cross, or where the arc's normal stands at right angles on the edge.
Nearest betweenArcAndEdge(const FlatArc& arc, const Edge& edge) {
  Nearest best{fromEdge(edge, arc.at(0)).distance, 0};
  const auto better = [&best](double distance, double share) {
    if (distance < best.distance) best = {distance, share};
  };
  better(fromEdge(edge, arc.at(1)).distance, 1);
  const auto corner = [&](SetupPoint2 p) {
    const Vec2 out = p - arc.centre;
    if (const auto share = arc.shareAt(out)) better(std::fabs(length(out) - arc.radius), *share);
  };
  corner(edge.a);
  const Vec2 along = edge.b - edge.a;
  const double square = dot(along, along);
  if (square <= 0) return best;
  corner(edge.b);
  const Vec2 foot = edge.a + along * (dot(arc.centre - edge.a, along) / square) - arc.centre;
  const Vec2 normal{-along.y, along.x};
  for (const Vec2 direction : {normal, normal * -1}) {
    if (const auto share = arc.shareAt(direction)) better(fromEdge(edge, arc.at(*share)).distance, *share);
  }
  const double half_square = arc.radius * arc.radius - dot(foot, foot);
  if (half_square >= 0) {
    const Vec2 half = along * std::sqrt(half_square / square);
    for (const Vec2 crossing : {foot + half, foot - half}) {
      const double k = dot(arc.centre + crossing - edge.a, along) / square;
      if (k < 0 || k > 1) continue;
      if (const auto share = arc.shareAt(crossing)) return {0, *share};
    }
  }
  return best;
}

Nearest outlineDistance(const FlatArc& arc, const Obstacle& o) {
  Nearest best{infinity, 0};
  for (const Edge& e : o.edges) {
    const Nearest n = betweenArcAndEdge(arc, e);
    if (n.distance < best.distance) best = n;
  }
  return best;
}

// Bounds of the gap over a stretch.
Bounded boundGap(const Stretch& s, const BodyPiece& piece, const Obstacle& o, double wanted) {
  const double h = o.top_mm - s.lowestZ();
  const double error = s.error();
  Bounded found;
  double d = 0;
  if (s.arc.plane == Plane::xy) {
    const FlatArc arc(s);
    const Nearest over = outlineDistance(arc, o);
    found.t = s.inWhole(over.t);
    d = over.distance - arc.off - o.radius_mm;
  } else {
    const Nearest over = outlineDistance(s.chord(), o);
    found.t = s.inWhole(over.t);
    d = over.distance - error - o.radius_mm;
  }
  const bool over_it = o.radius_mm <= 0 && (covers(o, flat(s.start)) || covers(o, flat(s.end)));
  found.low = cornerGap(piece, over_it ? 0 : std::max(0.0, d), h).distance;
  found.value = gapAt(pointAt(s.arc, found.t), piece, o);
  if (found.low > wanted || found.value - found.low <= arc_precision_mm / 2) return found;
  const Nearest chord = nearest(s.chord(), piece, o, wanted + error);
  found.low = std::max(found.low, chord.distance - error);
  const double t = s.inWhole(chord.t), value = gapAt(pointAt(s.arc, t), piece, o);
  if (value < found.value) {
    found.value = value;
    found.t = t;
  }
  return found;
}

std::optional<double> firstIn(const Stretch& s, const BodyPiece& piece, const Obstacle& o, double touch) {
  if (gapAt(s.start, piece, o) <= touch) return s.a;
  const Bounded bound = boundGap(s, piece, o, touch);
  if (bound.low > touch) return std::nullopt;
  const double middle = s.a + (s.b - s.a) / 2;
  if (s.error() <= 1e-9 || !(s.a < middle && middle < s.b)) {
    const auto t = firstContact(s.chord(), piece, o, touch + 1e-9);
    return t ? std::optional(s.inWhole(*t)) : std::nullopt;
  }
  if (const auto t = firstIn({s.arc, s.a, middle}, piece, o, touch)) return t;
  return firstIn({s.arc, middle, s.b}, piece, o, touch);
}

// Bounds of minus the depth over a stretch.
Bounded boundDepth(const Stretch& s, const BodyPiece& piece, const Obstacle& o, double slack, double wanted) {
  const double h = o.top_mm - s.lowestZ();
  Bounded found{infinity, infinity, s.inWhole(0.5)};
  if (h + slack < piece.z0) return found;
  const auto take = [&](double t) {
    const double depth = depthAt(pointAt(s.arc, t), piece, o, slack);
    if (-depth < found.value) found = {found.low, -depth, t};
  };
  take(found.t);
  const double middle = signedDistance(o, flat(pointAt(s.arc, s.inWhole(0.5))));
  const double chord_half = length(flat(s.end) - flat(s.start)) / 2;
  double nearest_axis = middle - chord_half - 2 * s.error();
  bool outside = nearest_axis > 0;
  if (s.arc.plane == Plane::xy) {
    const FlatArc arc(s);
    const Nearest over = outlineDistance(arc, o);
    take(s.inWhole(over.t));
    if (o.radius_mm > 0) {
      nearest_axis = over.distance - arc.off - o.radius_mm;
    } else if (middle > 0 && over.distance > arc.off) {
      nearest_axis = over.distance - arc.off;
      outside = true;
    }
  }
  found.low = nearest_axis - radiusUpTo(piece, std::max(h, piece.z0));
  if (found.low > wanted || found.value - found.low <= arc_precision_mm) return found;
  // Inside an outline that is not convex the chord takes as long as the arc.
  if (!o.convex && !outside) return found;
  // The chord, with the top raised by what the height may bend; for G17 arcs the heights are the chord's own.
  Obstacle raised = o;
  const double error = s.error();
  if (s.arc.plane != Plane::xy) raised.top_mm += error;
  const Depth chord = deepest(s.chord(), piece, raised, slack);
  found.low = std::max(found.low, -(chord.overlap + error));
  if (chord.overlap > -infinity) take(s.inWhole(chord.t));
  return found;
}

}  // namespace

Nearest nearestOnArc(const PathPiece& arc, const BodyPiece& piece, const Obstacle& o, double enough, double touch) {
  const auto bound = [&](double a, double b, double wanted) { return boundGap({arc, a, b}, piece, o, wanted); };
  const Bounded found = lowest(bound, arc_precision_mm, enough, 1'000'000);
  const bool maybe = found.low <= touch || found.low > enough;
  return {maybe ? found.low : found.value, found.t};
}

std::optional<double> firstContactOnArc(const PathPiece& arc, const BodyPiece& piece, const Obstacle& o, double touch) {
  return firstIn({arc, 0, 1}, piece, o, touch);
}

Depth deepestOnArc(const PathPiece& arc, const BodyPiece& piece, const Obstacle& o, double slack) {
  const auto bound = [&](double a, double b, double wanted) {
    return boundDepth({arc, a, b}, piece, o, slack, wanted);
  };
  const Bounded found = lowest(bound, arc_precision_mm, infinity, 4'000);
  return {-found.value, found.t};
}

}  // namespace provecut::clearance
