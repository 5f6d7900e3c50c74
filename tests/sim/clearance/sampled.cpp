#include "tests/sim/clearance/sampled.h"

#include <algorithm>
#include <cmath>
#include <queue>
#include <utility>

#include "parser/base/parallel_frames.h"

namespace provecut::sampled {

namespace {

constexpr int chords = 48;

void addRound(HalfProfile& p, Vec2 centre, double radius, double from_deg, double to_deg) {
  for (int i = 0; i <= chords; ++i) {
    const double a = (from_deg + (to_deg - from_deg) * i / chords) * M_PI / 180;
    p.points.push_back({centre.x + radius * std::cos(a), centre.y + radius * std::sin(a)});
  }
  const double step = std::fabs(to_deg - from_deg) / chords * M_PI / 180;
  p.sagitta = std::max(p.sagitta, radius * (1 - std::cos(step / 2)));
}

void close(HalfProfile& p, double radius, double top) {
  p.points.push_back({radius, top});
  p.points.push_back({0, top});
}

std::vector<SetupPoint2> corners(const HoldDown& h) {
  if (!h.outline_mm.empty()) return h.outline_mm;
  std::vector<SetupPoint2> c;
  const double a = h.angle_deg * M_PI / 180;
  const Vec2 u{std::cos(a), std::sin(a)}, v{-std::sin(a), std::cos(a)};
  for (const Vec2 k : {Vec2{-0.5, -0.5}, Vec2{0.5, -0.5}, Vec2{0.5, 0.5}, Vec2{-0.5, 0.5}}) {
    c.push_back(h.at_mm + u * (k.x * h.size_mm.x) + v * (k.y * h.size_mm.y));
  }
  return c;
}

double toSegment(SetupPoint2 p, SetupPoint2 a, SetupPoint2 b) {
  const Vec2 e = b - a;
  const double whole = dot(e, e), k = dot(p - a, e);
  if (k <= 0) return length(p - a);
  if (k >= whole) return length(p - b);
  return std::fabs(cross(e, p - a)) / std::sqrt(whole);
}

// Distance of a segment of the profile to the region r >= d, z <= h. It is convex along the segment; its
// lowest point is an end, where r = d, where z = h, or the foot of the perpendicular from (d, h).
double toRegion(Vec2 a, Vec2 b, double d, double h) {
  const Vec2 e = b - a;
  double best = INFINITY;
  const auto at = [&](double k) {
    if (!(k >= 0 && k <= 1)) return;
    const Vec2 p = a + e * k;
    best = std::min(best, std::hypot(std::max(0.0, d - p.x), std::max(0.0, p.y - h)));
  };
  at(0);
  at(1);
  at((d - a.x) / e.x);
  at((h - a.y) / e.y);
  at(dot(Vec2{d, h} - a, e) / dot(e, e));
  return best;
}

}  // namespace

HalfProfile cutterProfile(const Tool& t) {
  HalfProfile p;
  const double r = t.diameter_mm / 2;
  p.points.push_back({0, 0});
  switch (t.shape) {
    case ToolShape::flat:
    case ToolShape::surfacing:
      p.points.push_back({r, 0});
      break;
    case ToolShape::ball:
      addRound(p, {0, r}, r, -90, 0);
      break;
    case ToolShape::bull:
      addRound(p, {r - t.corner_radius_mm, t.corner_radius_mm}, t.corner_radius_mm, -90, 0);
      break;
    case ToolShape::vee:
    case ToolShape::drill: {
      const double tip = t.shape == ToolShape::vee ? t.tip_diameter_mm / 2 : 0;
      p.points.push_back({tip, 0});
      p.points.push_back({r, (r - tip) / std::tan(t.angle_deg * M_PI / 360)});
      break;
    }
    case ToolShape::taper_ball: {
      addRound(p, {0, t.tip_radius_mm}, t.tip_radius_mm, -90, -t.taper_deg);
      const Vec2 touch = p.points.back();
      p.points.push_back({r, touch.y + (r - touch.x) / std::tan(t.taper_deg * M_PI / 180)});
      break;
    }
    case ToolShape::form:
      p.points = t.profile_mm;
      break;
  }
  const Vec2 last = p.points.back();
  close(p, last.x, std::max(last.y, t.flute_length_mm));
  return p;
}

HalfProfile bodyProfile(double radius, double from, double to) {
  HalfProfile p;
  p.points = {{0, from}, {radius, from}};
  close(p, radius, to);
  return p;
}

double signedDistance(const HoldDown& h, SetupPoint2 p) {
  if (h.diameter_mm > 0) return length(p - h.at_mm) - h.diameter_mm / 2;
  const std::vector<SetupPoint2> c = corners(h);
  double nearest = INFINITY, turned = 0;
  for (std::size_t i = 0; i < c.size(); ++i) {
    const SetupPoint2 a = c[i], b = c[(i + 1) % c.size()];
    nearest = std::min(nearest, toSegment(p, a, b));
    turned += std::atan2(cross(a - p, b - p), dot(a - p, b - p));
  }
  return std::fabs(turned) > M_PI ? -nearest : nearest;
}

double distance(const HalfProfile& profile, const HoldDown& h, SetupPoint tip) {
  const double d = std::max(0.0, signedDistance(h, flat(tip))), top = h.top_mm - tip.z;
  double best = INFINITY;
  for (std::size_t i = 1; i < profile.points.size(); ++i) {
    best = std::min(best, toRegion(profile.points[i - 1], profile.points[i], d, top));
  }
  return best;
}

double radiusUpTo(const HalfProfile& profile, double h) {
  double radius = -INFINITY;
  for (std::size_t i = 1; i < profile.points.size(); ++i) {
    Vec2 low = profile.points[i - 1], high = profile.points[i];
    if (low.y > high.y) std::swap(low, high);
    if (low.y > h) continue;
    radius = std::max(radius, low.x);
    const double reached = high.y <= h ? 1 : (h - low.y) / (high.y - low.y);
    radius = std::max(radius, low.x + (high.x - low.x) * reached);
  }
  return radius;
}

namespace {

WorkPoint tipAt(const Motion& m, double share) {
  const WorkPoint straight = m.start + (m.end - m.start) * share;
  if (m.kind != MotionKind::arc_cw && m.kind != MotionKind::arc_ccw) return straight;
  const auto plane = [&](WorkPoint p) {
    if (m.plane == Plane::xy) return WorkPoint2{p.x, p.y};
    return m.plane == Plane::zx ? WorkPoint2{p.z, p.x} : WorkPoint2{p.y, p.z};
  };
  const Vec2 from = plane(m.start) - m.centre, to = plane(m.end) - m.centre;
  const double a = std::atan2(from.y, from.x);
  double sweep = std::atan2(to.y, to.x) - a;
  if (m.kind == MotionKind::arc_ccw) {
    while (sweep <= 0) sweep += 2 * M_PI;
    sweep += 2 * M_PI * (m.turns - 1);
  } else {
    while (sweep >= 0) sweep -= 2 * M_PI;
    sweep -= 2 * M_PI * (m.turns - 1);
  }
  const double r = length(from) + (length(to) - length(from)) * share, angle = a + sweep * share;
  const WorkPoint2 q = m.centre + Vec2{r * std::cos(angle), r * std::sin(angle)};
  if (m.plane == Plane::xy) return {q.x, q.y, straight.z};
  return m.plane == Plane::zx ? WorkPoint{q.y, straight.y, q.x} : WorkPoint{straight.x, q.x, q.y};
}

}  // namespace

SetupPoint pointOn(const Motion& m, double share) {
  return workToSetup(SetupPoint{}, tipAt(m, share));
}

double wayOf(const Motion& m) {
  // Arcs of even radius: speed along the share is constant, so any short step gives it; a finite difference
  // of 1e-4 has an error of the order 1e-8 of it, covered by the factor.
  double way = 0;
  for (int i = 0; i < 1000; ++i) way += length(pointOn(m, (i + 1) / 1000.0) - pointOn(m, i / 1000.0));
  return way * 1.001;
}

Range lowest(const std::function<double(double)>& f, double rate, double precision, int most) {
  struct Stretch {
    double a, b, low;
    bool operator<(const Stretch& o) const { return low > o.low; }
  };
  Range r{0, INFINITY, 0};
  std::priority_queue<Stretch> open;
  const auto look = [&](double a, double b) {
    const double m = (a + b) / 2, v = f(m);
    if (v < r.high) {
      r.high = v;
      r.at = m;
    }
    open.push({a, b, v - rate * (b - a) / 2});
    --most;
  };
  for (int i = 0; i < 64; ++i) look(i / 64.0, (i + 1) / 64.0);
  while (most > 0 && open.top().low < r.high - precision) {
    const Stretch s = open.top();
    open.pop();
    look(s.a, (s.a + s.b) / 2);
    look((s.a + s.b) / 2, s.b);
  }
  r.low = std::min(open.top().low, r.high);
  return r;
}

}  // namespace provecut::sampled
