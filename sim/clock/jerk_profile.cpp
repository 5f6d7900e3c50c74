#include "sim/clock/jerk_profile.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace provecut::clock {
namespace {

double rampTime(double change_mm_s, double a, double j) {
  return change_mm_s >= a * a / j ? change_mm_s / a + a / j : 2 * std::sqrt(std::max(0.0, change_mm_s) / j);
}

// The ramp is symmetric, so its mean speed is half way.
double rampLength(double v0, double v1, double a, double j) {
  return 0.5 * (v0 + v1) * rampTime(std::fabs(v1 - v0), a, j);
}

// Stretches driven as one S-curve.
struct Span {
  std::size_t begin = 0, end = 0;  // stretches
  double length_mm = 0, speed_mm_s = 0, acceleration_mm_s2 = 1e300;
  double entry_mm_s = 0, exit_mm_s = 0, time_s = 0;
};

double exit2Of(std::span<const SpeedStretch> path, std::size_t i) {
  return i + 1 < path.size() ? path[i + 1].entry2_mm2_s2 : 0;
}

// Does the plan run into a limit between stretch i - 1 and i, other than the speed that both share?
bool cutBefore(std::span<const SpeedStretch> path, std::span<const double> limit2, std::size_t i) {
  if (path[i].entry2_mm2_s2 < limit2[i] * (1 - 1e-12)) return false;
  const double before = path[i - 1].speed_mm_s, after = path[i].speed_mm_s;
  const bool same_speed = std::fabs(before - after) <= 1e-9 * after;
  return !same_speed || limit2[i] < after * after * (1 - 1e-9);
}

Span spanOf(std::span<const SpeedStretch> path, std::size_t begin, std::size_t end) {
  Span span{begin, end};
  for (std::size_t i = begin; i < end; ++i) {
    const SpeedStretch& s = path[i];
    span.length_mm += s.length_mm;
    span.acceleration_mm_s2 = std::min(span.acceleration_mm_s2, s.acceleration_mm_s2);
    span.speed_mm_s = std::max(span.speed_mm_s, peakSpeed(s.length_mm, s.speed_mm_s, s.acceleration_mm_s2,
                                                          std::sqrt(s.entry2_mm2_s2), std::sqrt(exit2Of(path, i))));
  }
  return span;
}

std::vector<Span> spansOf(std::span<const SpeedStretch> path, std::span<const double> limit2) {
  std::vector<Span> spans;
  for (std::size_t begin = 0, i = 1; i <= path.size(); ++i) {
    if (i < path.size() && !cutBefore(path, limit2, i)) continue;
    spans.push_back(spanOf(path, begin, i));
    begin = i;
  }
  return spans;
}

JerkMove moveOver(const Span& s, double jerk) {
  return jerkMove(s.length_mm, std::max({s.speed_mm_s, s.entry_mm_s, s.exit_mm_s}), s.acceleration_mm_s2, jerk,
                  s.entry_mm_s, s.exit_mm_s);
}

// The highest speeds between the spans that each can be reached from the one before and braked to the one after.
// Seconds for all.
double setSpeeds(std::span<const SpeedStretch> path, std::span<Span> spans, double jerk) {
  double next = 0;
  for (std::size_t i = spans.size(); i-- > 0;) {
    Span& s = spans[i];
    s.exit_mm_s = next;
    s.entry_mm_s = next =
        i == 0 ? 0 : jerkReach(next, s.length_mm, s.acceleration_mm_s2, jerk, std::sqrt(path[s.begin].entry2_mm2_s2));
  }
  double time_s = 0, reached = 0;
  for (Span& s : spans) {
    s.entry_mm_s = reached;
    s.exit_mm_s = reached =
        std::min(s.exit_mm_s, jerkReach(s.entry_mm_s, s.length_mm, s.acceleration_mm_s2, jerk, s.exit_mm_s));
    time_s += s.time_s = moveOver(s, jerk).time_s;
  }
  return time_s;
}

// A slow stretch must not hold back those beside it: parts the span before or behind its weakest stretch where that is
// faster. Puts the parts at the end of `parts` and returns their time.
double split(std::span<const SpeedStretch> path, const Span& whole, double jerk, int depth, std::vector<Span>& parts) {
  std::vector<Span> best{whole};
  double best_s = whole.time_s;
  std::size_t weakest = whole.begin;
  for (std::size_t i = whole.begin; i < whole.end; ++i) {
    if (path[i].acceleration_mm_s2 < path[weakest].acceleration_mm_s2) weakest = i;
  }
  for (const std::size_t at : {weakest, weakest + 1}) {
    if (depth == 0 || at <= whole.begin || at >= whole.end) continue;
    Span left = spanOf(path, whole.begin, at), right = spanOf(path, at, whole.end);
    left.entry_mm_s = whole.entry_mm_s;
    right.exit_mm_s = whole.exit_mm_s;
    const auto reach = [&](const Span& s, double from, double most) {
      return jerkReach(from, s.length_mm, s.acceleration_mm_s2, jerk, most);
    };
    const double allowed = std::sqrt(path[at].entry2_mm2_s2);
    const double between = std::min(reach(left, left.entry_mm_s, allowed), reach(right, right.exit_mm_s, allowed));
    if (reach(left, between, left.entry_mm_s) < left.entry_mm_s ||
        reach(right, between, right.exit_mm_s) < right.exit_mm_s)
      continue;
    left.exit_mm_s = right.entry_mm_s = between;
    left.time_s = moveOver(left, jerk).time_s;
    right.time_s = moveOver(right, jerk).time_s;
    std::vector<Span> tried;
    const double time_s = split(path, left, jerk, depth - 1, tried) + split(path, right, jerk, depth - 1, tried);
    if (time_s >= best_s) continue;
    best_s = time_s;
    best = std::move(tried);
  }
  parts.insert(parts.end(), best.begin(), best.end());
  return best_s;
}

// Where a drive over a span has come to at each of its joints, in order.
template <typename Take>
void atEachJoint(const Span& span, const JerkMove& move, std::span<const double> lengths_mm, Take take) {
  double at_mm = 0, before_s = 0, before = span.entry_mm_s;
  for (std::size_t k = 0; k < lengths_mm.size(); ++k) {
    at_mm += lengths_mm[k];
    const bool last = k + 1 == lengths_mm.size();
    const double until_s = last ? move.time_s : timeAt(move, at_mm);
    const double exit = last ? span.exit_mm_s : speedAt(move, until_s);
    // The peak lies in the piece that holds the cruise, or between two that touch it.
    const double cruise_s = move.phases[0].time_s + move.phases[1].time_s + move.phases[2].time_s;
    const bool holds_peak = before_s <= cruise_s + move.phases[3].time_s && until_s >= cruise_s;
    take(k, StretchDrive{until_s - before_s, before, exit, holds_peak ? move.peak_mm_s : std::max(before, exit)});
    before_s = until_s;
    before = exit;
  }
}

// Spans joined into one: which of them, and the one.
struct Joined {
  std::size_t begin = 0, end = 0;
  Span span;
};

// Does the drive keep what the plan without jerk says where the spans in it meet?
bool keepsPlan(std::span<const SpeedStretch> path, std::span<const Span> spans, const Joined& joined,
               const JerkMove& move) {
  std::vector<double> lengths_mm;
  for (std::size_t i = joined.begin; i < joined.end; ++i) lengths_mm.push_back(spans[i].length_mm);
  bool keeps = true;
  constexpr double rounding = 1 + 1e-9;
  atEachJoint(joined.span, move, lengths_mm, [&](std::size_t k, const StretchDrive& d) {
    const Span& s = spans[joined.begin + k];
    const bool last = k + 1 == lengths_mm.size();
    if (!last && d.exit_mm_s * d.exit_mm_s > path[s.end].entry2_mm2_s2 * rounding) keeps = false;
    if (d.peak_mm_s > s.speed_mm_s * rounding) keeps = false;
  });
  return keeps;
}

// The plan without jerk meets limits that the S-curves stay below: spans are joined where one S-curve over both is
// faster.
std::vector<Joined> join(std::span<const SpeedStretch> path, std::span<const Span> spans, double jerk) {
  constexpr std::size_t max_in_one = 64;  // keeps the work linear
  std::vector<Joined> all;
  for (std::size_t i = 0; i < spans.size(); ++i) {
    all.push_back({i, i + 1, spans[i]});
    for (bool found = true; found && all.size() > 1;) {
      found = false;
      const Joined &left = all[all.size() - 2], &right = all.back();
      if (right.end - left.begin > max_in_one) break;
      Joined both{left.begin, right.end, left.span};
      both.span.end = right.span.end;
      both.span.length_mm += right.span.length_mm;
      both.span.acceleration_mm_s2 = std::min(left.span.acceleration_mm_s2, right.span.acceleration_mm_s2);
      both.span.exit_mm_s = right.span.exit_mm_s;
      const auto [slower, faster] = std::minmax(left.span.speed_mm_s, right.span.speed_mm_s);
      for (const double speed : {faster, slower}) {
        both.span.speed_mm_s = std::max({speed, both.span.entry_mm_s, both.span.exit_mm_s});
        const JerkMove move = moveOver(both.span, jerk);
        both.span.time_s = move.time_s;
        if (move.time_s >= left.span.time_s + right.span.time_s || !keepsPlan(path, spans, both, move)) continue;
        found = true;
        break;
      }
      if (!found) break;
      all.pop_back();
      all.back() = both;
    }
  }
  return all;
}

std::vector<Span> drivenSpans(std::span<const SpeedStretch> path, std::span<const double> limit2, double jerk) {
  std::vector<Span> spans = spansOf(path, limit2);
  const double whole_s = setSpeeds(path, spans, jerk);
  constexpr int deepest = 2;
  std::vector<Span> parts;
  for (const Span& s : spans) split(path, s, jerk, deepest, parts);
  if (parts.size() > spans.size() && setSpeeds(path, parts, jerk) < whole_s) spans = std::move(parts);
  const std::vector<Joined> joined = join(path, spans, jerk);
  if (joined.size() == spans.size()) return spans;
  std::vector<Span> fewer;
  double time_s = 0;
  for (const Joined& j : joined) {
    fewer.push_back(j.span);
    time_s += j.span.time_s;
  }
  // Longer spans may be entered faster.
  std::vector<Span> faster = fewer;
  bool better = setSpeeds(path, faster, jerk) < time_s;
  for (std::size_t i = 0; better && i < joined.size(); ++i) {
    const Joined again{joined[i].begin, joined[i].end, faster[i]};
    better = again.end - again.begin == 1 || keepsPlan(path, spans, again, moveOver(again.span, jerk));
  }
  return better ? faster : fewer;
}

}  // namespace

double jerkReach(double from_mm_s, double length_mm, double a, double j, double max_mm_s) {
  if (from_mm_s >= max_mm_s || rampLength(from_mm_s, max_mm_s, a, j) <= length_mm) return max_mm_s;
  // With the full acceleration reached: (v² - v0²) / 2a + (v0 + v) a / 2j = d.
  const double b = a * a / j;
  const double v = 0.5 * (-b + std::sqrt(b * b + 4 * (2 * a * length_mm + from_mm_s * from_mm_s - from_mm_s * b)));
  if (v - from_mm_s >= b) return std::min(v, max_mm_s);
  // Else x = sqrt((v - v0) / j) solves j x³ + 2 v0 x = d: convex, so Newton's steps from above stay above the root.
  double x = std::cbrt(length_mm / j);
  if (from_mm_s > 0) x = std::min(x, length_mm / (2 * from_mm_s));
  for (int step = 0; step < 60; ++step) {
    const double next = x - (j * x * x * x + 2 * from_mm_s * x - length_mm) / (3 * j * x * x + 2 * from_mm_s);
    if (!(next < x)) break;
    x = next;
  }
  return std::min(from_mm_s + j * x * x, max_mm_s);
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

void driveWithJerk(std::span<const SpeedStretch> path, std::span<const double> limit2, double jerk_mm_s3,
                   std::span<StretchDrive> drive) {
  std::vector<double> lengths_mm;
  for (const Span& span : drivenSpans(path, limit2, jerk_mm_s3)) {
    lengths_mm.clear();
    for (std::size_t k = span.begin; k < span.end; ++k) lengths_mm.push_back(path[k].length_mm);
    atEachJoint(span, moveOver(span, jerk_mm_s3), lengths_mm,
                [&](std::size_t k, const StretchDrive& d) { drive[span.begin + k] = d; });
  }
}

}  // namespace provecut::clock
