#include "sim/tool/swept_piece.h"

#include <algorithm>
#include <cmath>

#include "sim/numeric/golden_section.h"

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

// The part of a sweep from which the piece reaches the line: mm along from the point beside it.
struct Stretch {
  double from, to, aside;
  double distance(double u) const { return std::sqrt(u * u + aside * aside); }
};

// The least of slope · u + base + rise · max(0, distance(u) - flat): at an end, where the flat ends, or where the
// slopes of way and cone are equal.
double leastOverCone(const Stretch& s, double slope, double base, double rise, double flat) {
  const auto value = [&](double u) { return slope * u + base + rise * std::max(0.0, s.distance(u) - flat); };
  double least = std::min(value(s.from), value(s.to));
  const auto also = [&](double u) {
    if (u > s.from && u < s.to) least = std::min(least, value(u));
  };
  if (rise <= 0) return least;
  if (const double edge = flat * flat - s.aside * s.aside; edge > 0) {
    also(std::sqrt(edge));
    also(-std::sqrt(edge));
  }
  if (rise > std::abs(slope)) also(-slope * std::abs(s.aside) / std::sqrt(rise * rise - slope * slope));
  return least;
}

double leastOverLowest(const Stretch& s, double slope, const BodyPiece& p) {
  if (p.arc_radius == 0) return leastOverCone(s, slope, p.z0, p.r1 > p.r0 ? (p.z1 - p.z0) / (p.r1 - p.r0) : 0, p.r0);
  const double reach = std::max(p.r0, p.r1);
  const auto value = [&](double u) { return slope * u + lowest(p, std::min(reach, s.distance(u))); };
  if (p.centre_r > 0) return -maxOfConcave([&](double u) { return -value(u); }, s.from, s.to, 1e-7).value;
  // A sphere: where its tangent has the way's slope, or where its flat ends.
  double least = std::min(value(s.from), value(s.to));
  const auto also = [&](double u) {
    if (u > s.from && u < s.to) least = std::min(least, value(u));
  };
  also(-slope * std::sqrt(std::max(0.0, p.arc_radius * p.arc_radius - s.aside * s.aside)) /
       std::sqrt(1 + slope * slope));
  if (const double edge = p.r0 * p.r0 - s.aside * s.aside; edge > 0) {
    also(std::sqrt(edge));
    also(-std::sqrt(edge));
  }
  return least;
}

double maxOverHighest(const Stretch& s, double slope, const BodyPiece& p) {
  return -leastOverCone(s, -slope, -p.z1, p.r1 < p.r0 ? (p.z1 - p.z0) / (p.r0 - p.r1) : 0, p.r1);
}

}  // namespace

SweepLine::SweepLine(const Sweep& s) : start{s.ax, s.ay}, along{1, 0}, a_tip(s.a_tip), b_tip(s.b_tip) {
  const Vec2 way{s.bx - s.ax, s.by - s.ay};
  const double l = length(way);
  if (l < 1e-9) return;
  length_mm = l;
  along = way * (1 / l);
}

SeenLine seen(const SweepLine& sweep, SetupPoint2 at) {
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
  const double from = std::max(-line.way, -half), to = std::max(from, std::min(sweep.length_mm - line.way, half));
  const double slope = (sweep.b_tip - sweep.a_tip) / sweep.length_mm, beside = sweep.a_tip + slope * line.way;
  const Stretch stretch{from, to, line.aside};
  return HeightRange{beside + leastOverLowest(stretch, slope, piece), beside + maxOverHighest(stretch, slope, piece)};
}

}  // namespace provecut
