#include "sim/swept_piece.h"

#include <algorithm>
#include <cmath>

namespace provecut {

namespace {

double lowest(const BodyPiece& p, double d) {
  if (d <= p.r0) return p.z0;
  if (p.arc_radius > 0) {
    const double out = d - p.centre_r;
    return p.centre_z - std::sqrt(std::max(0.0, p.arc_radius * p.arc_radius - out * out));
  }
  return p.r1 > p.r0 ? p.z0 + (p.z1 - p.z0) * std::min(1.0, (d - p.r0) / (p.r1 - p.r0)) : p.z0;
}

double highest(const BodyPiece& p, double d) {
  if (d <= p.r1 || p.r1 >= p.r0) return p.z1;
  return p.z1 - (p.z1 - p.z0) * std::min(1.0, (d - p.r1) / (p.r0 - p.r1));
}

// The least value of a convex function between a and b.
template <class F>
double least(double a, double b, const F& f) {
  constexpr double golden = 0.6180339887498949;
  double x = b - golden * (b - a), y = a + golden * (b - a), fx = f(x), fy = f(y);
  double best = std::min(f(a), f(b));
  while (b - a > 1e-7) {
    if (fx < fy) {
      b = y;
      y = x;
      fy = fx;
      x = b - golden * (b - a);
      fx = f(x);
    } else {
      a = x;
      x = y;
      fx = fy;
      y = a + golden * (b - a);
      fy = f(y);
    }
    best = std::min({best, fx, fy});
  }
  return best;
}

}  // namespace

SweepLine::SweepLine(const Sweep& s) : start{s.ax, s.ay}, along{1, 0}, a_tip(static_cast<double>(s.a_tip)), b_tip(static_cast<double>(s.b_tip)) {
  const Vec2 way{s.bx - s.ax, s.by - s.ay};
  const double l = length(way);
  if (l < 1e-9) return;
  length_mm = l;
  along = way * (1 / l);
}

SeenLine seen(const SweepLine& sweep, Vec2 at) {
  const Vec2 p = at - sweep.start;
  SeenLine line;
  line.way = dot(p, sweep.along);
  line.aside = cross(sweep.along, p);
  line.distance = std::hypot(line.way - std::clamp(line.way, 0.0, sweep.length_mm), line.aside);
  return line;
}

std::optional<HeightRange> takenFrom(const SweepLine& sweep, const SeenLine& line, const BodyPiece& piece) {
  const double reach = std::max(piece.r0, piece.r1);
  if (line.distance > reach) return std::nullopt;
  if (sweep.length_mm == 0 || sweep.a_tip == sweep.b_tip) {  // straight up or down, or level
    return HeightRange{std::min(sweep.a_tip, sweep.b_tip) + lowest(piece, line.distance),
                       std::max(sweep.a_tip, sweep.b_tip) + highest(piece, line.distance)};
  }
  const double half = std::sqrt(std::max(0.0, reach * reach - line.aside * line.aside));
  const double from = std::max(0.0, line.way - half), to = std::max(from, std::min(sweep.length_mm, line.way + half));
  const double slope = (sweep.b_tip - sweep.a_tip) / sweep.length_mm;
  const auto distance = [&](double s) { return std::min(reach, std::hypot(line.way - s, line.aside)); };
  return HeightRange{sweep.a_tip + least(from, to, [&](double s) { return slope * s + lowest(piece, distance(s)); }),
                     sweep.a_tip - least(from, to, [&](double s) { return -slope * s - highest(piece, distance(s)); })};
}

}  // namespace provecut
