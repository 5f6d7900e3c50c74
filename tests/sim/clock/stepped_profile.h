// An independent reference for the clock: the limits sampled along the path by small differences, put on a fine grid,
// and the speed stepped from point to point. No closed form of the planner is used.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "tests/sim/clock/random_path.h"

namespace provecut::test {

struct Fineness {
  int grid = 600;      // steps per move
  int samples = 2000;  // of an arc's limits
  int chords = 4000;   // of an arc's length
};

inline std::array<double, 3> parts(const Vec3& v) {
  return {std::fabs(v.x), std::fabs(v.y), std::fabs(v.z)};
}

inline bool isStraight(const Motion& m) {
  return !isArc(m);
}

inline double lengthOf(const Motion& m, int chords = Fineness{}.chords) {
  if (isStraight(m)) return length(m.end - m.start);
  double sum = 0;
  WorkPoint at = m.start;
  for (int k = 1; k <= chords; ++k) {
    const WorkPoint next = pointOn(m, static_cast<double>(k) / chords);
    sum += length(next - at);
    at = next;
  }
  return sum;
}

// Direction at an end, by a one-sided difference of second order; `inward` 1 at the start, -1 at the end.
inline Vec3 endDirection(const Motion& m, double share, double inward) {
  const double h = 1e-4;
  const WorkPoint end = pointOn(m, share);
  const Vec3 way = (pointOn(m, share + inward * h) - end) * 4 - (pointOn(m, share + inward * 2 * h) - end);
  return way * (inward / length(way));
}
inline Vec3 firstDirection(const Motion& m) {
  return endDirection(m, 0, 1);
}
inline Vec3 lastDirection(const Motion& m) {
  return endDirection(m, 1, -1);
}

// Share of the way that goes round, not along the axis of a helix.
inline double roundShare(const Motion& m, const Vec3& direction) {
  if (isStraight(m)) return 1;
  const double climb = m.plane == Plane::xy ? direction.z : m.plane == Plane::zx ? direction.y : direction.x;
  return std::sqrt(1 - climb * climb);
}

struct SampledLimits {
  double speed = 0, acceleration = 0, length = 0;
  double bend2 = 1e24;  // square of the speed at which the bend leaves nothing of the acceleration for the way along
};

// Limits of one move from its sampled directions: each axis' rate, its acceleration along and across; on an arc where
// both share, that of the plane's weaker axis. A helix speeds up no faster than the circle under it.
inline SampledLimits sampledLimits(const Motion& m, const Machine& machine, const Fineness& fineness = {}) {
  SampledLimits out;
  out.length = lengthOf(m, fineness.chords);
  const auto rate = parts(machine.max_rate_mm_min * (1 / 60.0));
  const auto acceleration = parts(machine.acceleration_mm_s2);
  out.speed = m.kind == MotionKind::rapid || m.feed_mm_min <= 0 ? 1e12 : static_cast<double>(m.feed_mm_min) / 60;
  out.acceleration = 1e12;
  const int samples = isStraight(m) ? 1 : fineness.samples;
  const bool shared = isArc(m) && machine.arc_acceleration == ArcAcceleration::shared;
  const std::size_t normal = m.plane == Plane::xy ? 2 : m.plane == Plane::zx ? 1 : 0;
  const double weaker = std::min(acceleration[(normal + 1) % 3], acceleration[(normal + 2) % 3]);
  for (int k = 0; k <= samples; ++k) {
    const double share = 1e-4 + (1 - 2e-4) * k / samples;
    const Vec3 direction = directionOn(m, share);
    const auto t = parts(direction);
    std::array<double, 3> round{};
    round.fill(roundShare(m, direction));
    if (isArc(m)) round[normal] = 1;
    for (std::size_t axis = 0; axis < 3; ++axis) {
      if (t[axis] < 1e-9) continue;
      out.speed = std::min(out.speed, rate[axis] / t[axis]);
      if (!shared || axis == normal)
        out.acceleration = std::min(out.acceleration, acceleration[axis] / t[axis] * round[axis]);
    }
    if (isStraight(m)) continue;
    // Curvature vector d(direction)/ds.
    const double h = 1e-4;
    const Vec3 bend = (directionOn(m, share + h / 2) - directionOn(m, share - h / 2)) * (1 / (h * out.length));
    if (shared) {
      out.acceleration = std::min(out.acceleration, weaker);
      out.bend2 = std::min(out.bend2, weaker / length(bend));
      out.speed = std::min(out.speed, std::sqrt(out.bend2));
      continue;
    }
    const auto b = parts(bend);
    for (std::size_t axis = 0; axis < 3; ++axis)
      if (b[axis] > 1e-7) out.speed = std::min(out.speed, std::sqrt(acceleration[axis] / b[axis]));
  }
  return out;
}

// The arc rounding a corner (geometry), with the axes' accelerations sampled round the corner's arc, which starts no
// farther than `room` before it.
inline double sampledCorner2(const Vec3& u, const Vec3& w, const Machine& machine, double deviation,
                             double room = 1e12) {
  const double cosine = std::clamp(dot(u, w), -1.0, 1.0);
  const double turn = std::acos(cosine);
  if (turn < 1e-6) return 1e12;
  const double s = std::cos(turn / 2);
  if (s < 1e-9) return 0;
  const double radius = std::min(deviation * s / (1 - s), room * std::tan((std::numbers::pi - turn) / 2));
  const auto acceleration = parts(machine.acceleration_mm_s2);
  double least = 1e12;
  for (int k = 0; k <= 400; ++k) {
    const double a = turn * k / 400;
    const auto n = parts((w * std::cos(a) - u * std::cos(turn - a)) * (1 / std::sin(turn)));
    for (std::size_t axis = 0; axis < 3; ++axis)
      if (n[axis] > 1e-9) least = std::min(least, acceleration[axis] / n[axis]);
  }
  return least * radius;
}

// Stretches of moves without a halt between them: events, dwells and probes halt.
inline std::vector<std::vector<std::size_t>> runsOf(const Program& program, const Fineness& fineness) {
  std::vector<std::vector<std::size_t>> runs(1);
  std::size_t event = 0;
  const auto halt = [&] {
    if (!runs.back().empty()) runs.emplace_back();
  };
  for (std::size_t i = 0; i < program.motions.size(); ++i) {
    for (; event < program.events.size() && program.events[event].before_motion <= i; ++event) {
      const EventKind kind = program.events[event].kind;
      if (kind != EventKind::comment_tool && kind != EventKind::optional_stop) halt();
    }
    const Motion& m = program.motions[i];
    if (m.kind == MotionKind::dwell || m.kind == MotionKind::probe) halt();
    if (m.kind == MotionKind::dwell || lengthOf(m, fineness.chords) <= 1e-6) continue;
    runs.back().push_back(i);
    if (m.kind == MotionKind::probe) halt();
  }
  return runs;
}

inline PathControlChange controlAt(const Program& program, std::size_t move) {
  PathControlChange control;
  for (const PathControlChange& c : program.path_control)
    if (c.before_motion <= move) control = c;
  return control;
}

inline double controlledCorner2(const Vec3& before, const Vec3& after, const Machine& machine,
                                const PathControlChange& c, double room) {
  const double own = machine.junction_deviation_mm;
  switch (c.control) {
    case PathControl::exact_stop:
      return 0;
    case PathControl::exact_path:
      return sampledCorner2(before, after, machine, std::min(own, 1e-4));
    case PathControl::tolerance:
      return sampledCorner2(before, after, machine, std::max(c.tolerance_mm, 1e-4), room);
    case PathControl::as_set:
      break;
  }
  return sampledCorner2(before, after, machine, own);
}

// Seconds of the moves alone.
inline double steppedTime(const Program& program, const Machine& machine, const Fineness& fineness = {}) {
  double time_s = 0;
  for (const std::vector<std::size_t>& run : runsOf(program, fineness)) {
    std::vector<double> speed2{0}, step_mm, acceleration, bend2;
    double length_before = 0;
    for (std::size_t n = 0; n < run.size(); ++n) {
      const Motion& m = program.motions[run[n]];
      const SampledLimits limits = sampledLimits(m, machine, fineness);
      const double cap2 = limits.speed * limits.speed;
      if (n > 0) {
        const double room = 0.5 * std::min(limits.length, length_before);
        const Vec3 before = lastDirection(program.motions[run[n - 1]]), after = firstDirection(m);
        speed2.back() = std::min(speed2.back(), cap2);
        for (std::size_t beside : {run[n - 1], run[n]})
          speed2.back() =
              std::min(speed2.back(), controlledCorner2(before, after, machine, controlAt(program, beside), room));
      }
      length_before = limits.length;
      for (int k = 0; k < fineness.grid; ++k) {
        speed2.push_back(cap2);
        // Finer towards the ends, where the speed changes.
        const auto node = [&](int i) {
          return limits.length * 0.5 * (1 - std::cos(std::numbers::pi * i / fineness.grid));
        };
        step_mm.push_back(node(k + 1) - node(k));
        acceleration.push_back(limits.acceleration);
        bend2.push_back(limits.bend2);
      }
    }
    speed2.back() = 0;
    // What step k lets the square of a speed gain: by the mean of the slopes at both its ends.
    const auto after = [&](double v2, std::size_t k) {
      const auto gain = [&](double at) {
        const double bent = std::min(1.0, at / bend2[k]);
        return 2 * acceleration[k] * step_mm[k] * std::sqrt(1 - bent * bent);
      };
      const double first = gain(v2);
      return v2 + 0.5 * (first + gain(v2 + first));
    };
    for (std::size_t k = 1; k < speed2.size(); ++k) speed2[k] = std::min(speed2[k], after(speed2[k - 1], k - 1));
    for (std::size_t k = speed2.size() - 1; k-- > 0;) speed2[k] = std::min(speed2[k], after(speed2[k + 1], k));
    for (std::size_t k = 0; k < step_mm.size(); ++k)
      time_s += 2 * step_mm[k] / (std::sqrt(speed2[k]) + std::sqrt(speed2[k + 1]));
  }
  return time_s;
}

}  // namespace provecut::test
