// Random programs and machines, and where the tip is along a move, worked out apart from the code under test.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <random>

#include "parser/job/job.h"
#include "parser/program/motion.h"

namespace provecut::test {

class RandomPath {
 public:
  explicit RandomPath(unsigned seed) : random_(seed) {}

  double between(double low, double high) { return std::uniform_real_distribution<double>(low, high)(random_); }
  int oneOf(int count) { return std::uniform_int_distribution<int>(0, count - 1)(random_); }

  Machine machine() {
    Machine m;
    m.max_rate_mm_min = {between(1000, 20000), between(1000, 20000), between(300, 6000)};
    m.acceleration_mm_s2 = {between(30, 1500), between(30, 1500), between(20, 800)};
    m.junction_deviation_mm = between(0.002, 0.1);
    return m;
  }

  // Lines of very different lengths, smooth runs of short chords, arcs and helixes in all planes, rapids.
  Program program(int moves) {
    Program p;
    WorkPoint at;
    double heading = between(0, 6.28);
    while (static_cast<int>(p.motions.size()) < moves) {
      Motion m;
      m.start = at;
      m.feed_mm_min = static_cast<float>(std::exp(between(std::log(200.0), std::log(12000.0))));
      const int what = oneOf(8);
      if (what == 0) {
        m.kind = MotionKind::rapid;
        m.end = {between(-100, 100), between(-100, 100), between(-5, 20)};
      } else if (what == 1) {
        m.kind = MotionKind::feed;
        m.end = at + Vec3{between(-60, 60), between(-60, 60), between(-3, 3)};
      } else if (what == 2) {
        m.kind = MotionKind::feed;
        m.end = at + Vec3{0, 0, between(-6, 6)};
      } else if (what <= 4) {
        m.kind = MotionKind::feed;
        const int run = 1 + oneOf(15);
        const float feed = m.feed_mm_min;
        for (int k = 0; k < run; ++k) {
          heading += between(-0.15, 0.15);
          const double step = between(0.02, 1.5);
          m.start = at;
          m.end = at = at + Vec3{step * std::cos(heading), step * std::sin(heading), between(-0.02, 0.02)};
          m.feed_mm_min = feed;
          p.motions.push_back(m);
        }
        continue;
      } else {
        addArc(m);
      }
      at = m.end;
      p.motions.push_back(m);
    }
    return p;
  }

 private:
  void addArc(Motion& m) {
    m.kind = oneOf(2) == 0 ? MotionKind::arc_cw : MotionKind::arc_ccw;
    m.plane = std::array{Plane::xy, Plane::zx, Plane::yz}[static_cast<std::size_t>(oneOf(3))];
    const double radius = std::exp(between(std::log(0.2), std::log(60.0)));
    const double from = between(0, 2 * std::numbers::pi);
    const double sweep = between(0.05, 2 * std::numbers::pi - 0.05) * (m.kind == MotionKind::arc_cw ? -1 : 1);
    const double rise = oneOf(2) == 0 ? 0 : between(-4, 4);
    m.turns = static_cast<std::uint16_t>(1 + oneOf(2));
    const double c0 = std::cos(from), s0 = std::sin(from), c1 = std::cos(from + sweep), s1 = std::sin(from + sweep);
    const double dp = radius * (c1 - c0), dq = radius * (s1 - s0);
    m.end = m.start;
    switch (m.plane) {
      case Plane::xy:
        m.centre = {m.start.x - radius * c0, m.start.y - radius * s0};
        m.end = m.start + Vec3{dp, dq, rise};
        break;
      case Plane::zx:
        m.centre = {m.start.z - radius * c0, m.start.x - radius * s0};
        m.end = m.start + Vec3{dq, rise, dp};
        break;
      case Plane::yz:
        m.centre = {m.start.y - radius * c0, m.start.z - radius * s0};
        m.end = m.start + Vec3{rise, dp, dq};
        break;
    }
  }

  std::mt19937 random_;
};

// The tip at `share` (0..1) of a move. Arcs: turned about the centre by the angle between the ends, evenly with the
// rise.
inline WorkPoint pointOn(const Motion& m, double share) {
  if (m.kind != MotionKind::arc_cw && m.kind != MotionKind::arc_ccw) return m.start + (m.end - m.start) * share;
  const auto split = [&](const WorkPoint& v) -> std::array<double, 3> {
    if (m.plane == Plane::xy) return {v.x, v.y, v.z};
    if (m.plane == Plane::zx) return {v.z, v.x, v.y};
    return {v.y, v.z, v.x};
  };
  const auto [p0, q0, n0] = split(m.start);
  const auto [p1, q1, n1] = split(m.end);
  const double from = std::atan2(q0 - m.centre.y, p0 - m.centre.x);
  double to = std::atan2(q1 - m.centre.y, p1 - m.centre.x);
  const double whole = 2 * std::numbers::pi;
  if (m.kind == MotionKind::arc_ccw) {
    while (to <= from + 1e-9) to += whole;
    to += whole * (m.turns - 1);
  } else {
    while (to >= from - 1e-9) to -= whole;
    to -= whole * (m.turns - 1);
  }
  const double r = std::hypot(p0 - m.centre.x, q0 - m.centre.y);
  const double a = from + (to - from) * share;
  const double p = m.centre.x + r * std::cos(a), q = m.centre.y + r * std::sin(a), n = n0 + (n1 - n0) * share;
  if (m.plane == Plane::xy) return {p, q, n};
  if (m.plane == Plane::zx) return {q, n, p};
  return {n, p, q};
}

// Unit direction of travel by a small central difference.
inline Vec3 directionOn(const Motion& m, double share) {
  const double h = 1e-5;
  const Vec3 way = pointOn(m, std::min(1.0, share + h)) - pointOn(m, std::max(0.0, share - h));
  return way * (1 / length(way));
}

}  // namespace provecut::test
