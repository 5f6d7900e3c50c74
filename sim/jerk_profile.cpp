#include "sim/jerk_profile.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace provecut {
namespace {

double rampTime(double change_mm_s, double a, double j) {
  return change_mm_s >= a * a / j ? change_mm_s / a + a / j : 2 * std::sqrt(std::max(0.0, change_mm_s) / j);
}

// The ramp is symmetric, so its mean speed is half way.
double rampLength(double v0, double v1, double a, double j) { return 0.5 * (v0 + v1) * rampTime(std::fabs(v1 - v0), a, j); }

struct Span {
  std::size_t begin = 0, end = 0;  // stretches
  double length_mm = 0, speed_mm_s = 0, acceleration_mm_s2 = 1e300;
};

double exit2Of(std::span<const Stretch> path, std::size_t i) { return i + 1 < path.size() ? path[i + 1].entry2_mm2_s2 : 0; }

// Does the plan run into a limit between stretch i - 1 and i, other than the speed that both share?
bool cutBefore(std::span<const Stretch> path, std::span<const double> limit2, std::size_t i) {
  if (path[i].entry2_mm2_s2 < limit2[i] * (1 - 1e-12)) return false;
  const double before = path[i - 1].speed_mm_s, after = path[i].speed_mm_s;
  const bool same_speed = std::fabs(before - after) <= 1e-9 * after;
  return !same_speed || limit2[i] < after * after * (1 - 1e-9);
}

std::vector<Span> spansOf(std::span<const Stretch> path, std::span<const double> limit2) {
  std::vector<Span> spans;
  for (std::size_t i = 0; i < path.size(); ++i) {
    if (i == 0 || cutBefore(path, limit2, i)) spans.push_back({i, i, 0, 0, 1e300});
    Span& span = spans.back();
    const Stretch& s = path[i];
    span.end = i + 1;
    span.length_mm += s.length_mm;
    span.acceleration_mm_s2 = std::min(span.acceleration_mm_s2, s.acceleration_mm_s2);
    span.speed_mm_s = std::max(span.speed_mm_s, peakSpeed(s.length_mm, s.speed_mm_s, s.acceleration_mm_s2,
                                                          std::sqrt(s.entry2_mm2_s2), std::sqrt(exit2Of(path, i))));
  }
  return spans;
}

}  // namespace

double jerkReach(double from_mm_s, double length_mm, double a, double j, double most_mm_s) {
  if (from_mm_s >= most_mm_s || rampLength(from_mm_s, most_mm_s, a, j) <= length_mm) return most_mm_s;
  // With the full acceleration reached: (v² - v0²) / 2a + (v0 + v) a / 2j = d.
  const double b = a * a / j;
  const double v = 0.5 * (-b + std::sqrt(b * b + 4 * (2 * a * length_mm + from_mm_s * from_mm_s - from_mm_s * b)));
  if (v - from_mm_s >= b) return std::min(v, most_mm_s);
  // Else x = sqrt((v - v0) / j) solves j x³ + 2 v0 x = d: convex, so Newton's steps from above stay above the root.
  double x = std::cbrt(length_mm / j);
  if (from_mm_s > 0) x = std::min(x, length_mm / (2 * from_mm_s));
  for (int step = 0; step < 60; ++step) {
    const double next = x - (j * x * x * x + 2 * from_mm_s * x - length_mm) / (3 * j * x * x + 2 * from_mm_s);
    if (!(next < x)) break;
    x = next;
  }
  return std::min(from_mm_s + j * x * x, most_mm_s);
}

JerkMove jerkMove(double length_mm, double speed_mm_s, double a, double j, double entry_mm_s, double exit_mm_s) {
  const auto both = [&](double peak) { return rampLength(entry_mm_s, peak, a, j) + rampLength(peak, exit_mm_s, a, j); };
  double peak = speed_mm_s;
  if (both(peak) > length_mm) {
    double low = std::max(entry_mm_s, exit_mm_s), high = peak;
    for (int step = 0; step < 200 && low < high; ++step) {
      const double middle = 0.5 * (low + high);
      if (middle <= low || middle >= high) break;
      (both(middle) > length_mm ? high : low) = middle;
    }
    peak = low;
  }
  JerkMove move;
  move.peak_mm_s = peak;
  std::size_t n = 0;
  double at_mm = 0, v = entry_mm_s, acceleration = 0;
  const auto phase = [&](double time_s, double jerk) {
    move.phases[n++] = {time_s, jerk, acceleration, v, at_mm};
    at_mm += time_s * (v + time_s * (acceleration / 2 + time_s * jerk / 6));
    v += time_s * (acceleration + time_s * jerk / 2);
    acceleration += time_s * jerk;
    move.time_s += time_s;
  };
  const auto ramp = [&](double to) {
    const double change = std::fabs(to - v), sign = to < v ? -1 : 1;
    const double bend_s = change >= a * a / j ? a / j : std::sqrt(change / j);
    const double straight_s = std::max(0.0, rampTime(change, a, j) - 2 * bend_s);
    phase(bend_s, sign * j);
    phase(straight_s, 0);
    phase(bend_s, -sign * j);
    acceleration = 0;
    v = to;
  };
  ramp(peak);
  phase(peak > 0 ? std::max(0.0, length_mm - both(peak)) / peak : 0, 0);
  ramp(exit_mm_s);
  return move;
}

double timeAt(const JerkMove& move, double at_mm) {
  double begin_s = 0;
  for (std::size_t n = 0; n < move.phases.size(); ++n) {
    const JerkMove::Phase& p = move.phases[n];
    const bool last = n + 1 == move.phases.size();
    if (!last && at_mm > move.phases[n + 1].at_mm) {
      begin_s += p.time_s;
      continue;
    }
    double low = 0, high = p.time_s;
    for (int step = 0; step < 60; ++step) {
      const double t = 0.5 * (low + high);
      const double there = p.at_mm + t * (p.speed_mm_s + t * (p.acceleration_mm_s2 / 2 + t * p.jerk_mm_s3 / 6));
      (there < at_mm ? low : high) = t;
    }
    return begin_s + 0.5 * (low + high);
  }
  return move.time_s;
}

double speedAt(const JerkMove& move, double time_s) {
  double begin_s = 0;
  for (const JerkMove::Phase& p : move.phases) {
    const double t = time_s - begin_s;
    if (t <= p.time_s) return p.speed_mm_s + t * (p.acceleration_mm_s2 + t * p.jerk_mm_s3 / 2);
    begin_s += p.time_s;
  }
  const JerkMove::Phase& p = move.phases.back();
  return p.speed_mm_s + p.time_s * (p.acceleration_mm_s2 + p.time_s * p.jerk_mm_s3 / 2);
}

void driveWithJerk(std::span<const Stretch> path, std::span<const double> limit2, double jerk_mm_s3, std::span<StretchDrive> drive) {
  const std::vector<Span> spans = spansOf(path, limit2);
  std::vector<double> speed(spans.size() + 1, 0.0);  // where each span begins; the last: at rest
  for (std::size_t i = spans.size(); i-- > 1;)
    speed[i] = jerkReach(speed[i + 1], spans[i].length_mm, spans[i].acceleration_mm_s2, jerk_mm_s3, std::sqrt(path[spans[i].begin].entry2_mm2_s2));
  for (std::size_t i = 0; i + 1 < spans.size(); ++i)
    speed[i + 1] = std::min(speed[i + 1], jerkReach(speed[i], spans[i].length_mm, spans[i].acceleration_mm_s2, jerk_mm_s3, speed[i + 1]));
  for (std::size_t i = 0; i < spans.size(); ++i) {
    const Span& span = spans[i];
    const double fastest = std::max({span.speed_mm_s, speed[i], speed[i + 1]});
    const JerkMove move = jerkMove(span.length_mm, fastest, span.acceleration_mm_s2, jerk_mm_s3, speed[i], speed[i + 1]);
    double at_mm = 0, before_s = 0, before = speed[i];
    for (std::size_t k = span.begin; k < span.end; ++k) {
      at_mm += path[k].length_mm;
      const bool last = k + 1 == span.end;
      const double until_s = last ? move.time_s : timeAt(move, at_mm);
      const double exit = last ? speed[i + 1] : speedAt(move, until_s);
      // The peak lies in the stretch that holds the cruise, or between two that touch it.
      const double cruise_s = move.phases[0].time_s + move.phases[1].time_s + move.phases[2].time_s;
      const bool holds_peak = before_s <= cruise_s + move.phases[3].time_s && until_s >= cruise_s;
      drive[k] = {until_s - before_s, before, exit, holds_peak ? move.peak_mm_s : std::max(before, exit)};
      before_s = until_s;
      before = exit;
    }
  }
}

}  // namespace provecut
