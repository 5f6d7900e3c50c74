#include "sim/clock/clock_fit.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "parser/base/check.h"

namespace provecut::clock {
namespace {

// Logarithms of the acceleration's factor and of the junction deviation in mm.
using Point = std::array<double, 2>;

const Point lowest{std::log(1.0 / 50), std::log(0.001)};
const Point highest{std::log(50.0), std::log(1.0)};

Machine machineAt(const Machine& machine, const Point& p, const std::array<bool, 2>& free) {
  Machine m = machine;
  if (free[0]) m.acceleration_mm_s2 = machine.acceleration_mm_s2 * std::exp(p[0]);
  if (free[1]) m.junction_deviation_mm = std::exp(p[1]);
  return m;
}

std::vector<double> plannedTimes(std::span<const MeasuredRun> runs, const Machine& machine, double feed_override) {
  std::vector<double> times;
  for (const MeasuredRun& r : runs) {
    PlanOptions options;
    options.tool_in_spindle = r.tool_in_spindle;
    options.feed_override = feed_override;
    options.approach_as_rapid = true;
    times.push_back(plan(*r.program, machine, options).time.total_s());
  }
  return times;
}

std::vector<double> residuals(std::span<const MeasuredRun> runs, std::span<const double> planned_s) {
  std::vector<double> out;
  for (std::size_t i = 0; i < runs.size(); ++i) out.push_back((planned_s[i] - runs[i].seconds) / runs[i].seconds);
  return out;
}

double squares(std::span<const double> values) {
  double sum = 0;
  for (double v : values) sum += v * v;
  return sum;
}

Point clamped(Point p) {
  for (std::size_t k = 0; k < 2; ++k) p[k] = std::clamp(p[k], lowest[k], highest[k]);
  return p;
}

// What is fitted: runs that were timed, and which of the two values are free.
struct Fitting {
  std::span<const MeasuredRun> runs;
  const Machine& machine;
  double feed_override;
  std::array<bool, 2> free;
};

std::vector<double> timesAt(const Fitting& f, const Point& p) {
  return plannedTimes(f.runs, machineAt(f.machine, p, f.free), f.feed_override);
}

std::vector<double> residualsAt(const Fitting& f, const Point& p) {
  return residuals(f.runs, timesAt(f, p));
}

// The few best points of a coarse grid and the start itself, best first. A single one may lie where the times no
// longer depend on a value, with no way down to the right one.
std::vector<Point> startsFrom(const Fitting& f, const Point& start) {
  std::vector<std::pair<double, Point>> tried{{squares(residualsAt(f, start)), start}};
  const int across = f.free[0] ? 13 : 1, down = f.free[1] ? 7 : 1;
  for (int i = 0; i < across; ++i)
    for (int j = 0; j < down; ++j) {
      Point p = start;
      if (f.free[0]) p[0] = lowest[0] + (highest[0] - lowest[0]) * i / 12;
      if (f.free[1]) p[1] = lowest[1] + (highest[1] - lowest[1]) * j / 6;
      tried.emplace_back(squares(residualsAt(f, p)), p);
    }
  std::sort(tried.begin(), tried.end());
  tried.resize(std::min<std::size_t>(tried.size(), 6));
  std::vector<Point> starts;
  for (const auto& t : tried) starts.push_back(t.second);
  return starts;
}

// Change of every residual with each free value; empty for one that is not free.
using Slopes = std::array<std::vector<double>, 2>;

Slopes slopesAt(const Fitting& f, const Point& p) {
  Slopes out;
  for (std::size_t k = 0; k < 2; ++k) {
    if (!f.free[k]) continue;
    const double h = 1e-4;
    Point up = p, down = p;
    up[k] += h;
    down[k] -= h;
    out[k] = residualsAt(f, up);
    const std::vector<double> below = residualsAt(f, down);
    for (std::size_t i = 0; i < out[k].size(); ++i) out[k][i] = (out[k][i] - below[i]) / (2 * h);
  }
  return out;
}

// The normal equations of least squares: m · step = −g.
struct NormalEquations {
  double m[2][2] = {{0, 0}, {0, 0}}, g[2] = {0, 0};
};

NormalEquations normalEquations(const Slopes& slope, std::span<const double> residual) {
  NormalEquations e;
  for (std::size_t a = 0; a < 2; ++a)
    for (std::size_t i = 0; i < slope[a].size(); ++i) {
      e.g[a] += slope[a][i] * residual[i];
      for (std::size_t b = 0; b < 2; ++b)
        if (!slope[b].empty()) e.m[a][b] += slope[a][i] * slope[b][i];
    }
  return e;
}

// Where they lead from p with the diagonal raised by `damping` (Levenberg-Marquardt).
Point stepFrom(const Point& p, const NormalEquations& e, double damping, const std::array<bool, 2>& free) {
  const double d0 = e.m[0][0] * (1 + damping) + 1e-15, d1 = e.m[1][1] * (1 + damping) + 1e-15;
  const double det = d0 * d1 - e.m[0][1] * e.m[1][0];
  return clamped({p[0] - (free[0] ? (d1 * e.g[0] - e.m[0][1] * e.g[1]) / det : 0),
                  p[1] - (free[1] ? (d0 * e.g[1] - e.m[1][0] * e.g[0]) / det : 0)});
}

// Downhill from p by least squares until no step makes it better.
Point descend(const Fitting& f, Point p) {
  std::vector<double> here = residualsAt(f, p);
  double damping = 1e-3;
  for (int step = 0; step < 60; ++step) {
    const NormalEquations equations = normalEquations(slopesAt(f, p), here);
    bool better = false;
    for (int attempt = 0; attempt < 12 && !better; ++attempt) {
      const Point next = stepFrom(p, equations, damping, f.free);
      const std::vector<double> there = residualsAt(f, next);
      better = squares(there) < squares(here);
      if (!better) {
        damping *= 10;
        continue;
      }
      const double moved = std::fabs(next[0] - p[0]) + std::fabs(next[1] - p[1]);
      p = next;
      here = there;
      damping = std::max(damping / 10, 1e-12);
      if (moved < 1e-9) return p;
    }
    if (!better) break;
  }
  return p;
}

Point bestFrom(const Fitting& f, const Point& start) {
  Point found = start;
  double least = squares(residualsAt(f, start));
  for (const Point& from : startsFrom(f, start)) {
    if (least < 1e-14) break;  // explained already
    const Point p = descend(f, from);
    const double sum = squares(residualsAt(f, p));
    if (sum < least) {
      least = sum;
      found = p;
    }
  }
  return found;
}

}  // namespace

ClockFit fitClock(std::span<const MeasuredRun> runs, const Machine& machine, double feed_override) {
  for (const MeasuredRun& r : runs) CHECK(r.program != nullptr && r.seconds > 0);
  CHECK(feed_override > 0);
  ClockFit fit;
  fit.junction_deviation_mm = machine.junction_deviation_mm;
  fit.before_s = fit.after_s = plannedTimes(runs, machine, feed_override);
  if (runs.empty()) return fit;
  const auto rms = [&](std::span<const double> planned_s) {
    return std::sqrt(squares(residuals(runs, planned_s)) / static_cast<double>(runs.size()));
  };
  fit.before_share = fit.after_share = rms(fit.before_s);

  // The same program timed twice tells of one value only.
  const bool several =
      std::any_of(runs.begin(), runs.end(), [&](const MeasuredRun& r) { return r.program != runs.front().program; });
  const bool corners = machine.cornering == Cornering::junction_deviation;
  Fitting fitting{runs, machine, feed_override, {true, several && corners}};
  const Point as_set = clamped({0, std::log(std::max(machine.junction_deviation_mm, 1e-300))});
  Point found = bestFrom(fitting, as_set);

  // A value counts as found when a tenth more or less of it changes some program's time by a two-thousandth.
  const auto slope = slopesAt(fitting, found);
  const std::vector<double> planned_s = timesAt(fitting, found);
  for (std::size_t k = 0; k < 2; ++k) {
    if (!fitting.free[k]) continue;
    double steepest = 0;
    for (std::size_t i = 0; i < runs.size(); ++i)
      if (planned_s[i] > 0) steepest = std::max(steepest, std::fabs(slope[k][i]) * runs[i].seconds / planned_s[i]);
    if (0.1 * steepest < 0.0005) fitting.free[k] = false;
  }
  if (fitting.free[0] || fitting.free[1]) {
    found = descend(fitting, found);
    fit.acceleration_found = fitting.free[0];
    fit.junction_found = fitting.free[1];
    if (fitting.free[0]) fit.acceleration_factor = std::exp(found[0]);
    if (fitting.free[1]) fit.junction_deviation_mm = std::exp(found[1]);
    for (std::size_t k = 0; k < 2; ++k)
      if (fitting.free[k] && (found[k] <= lowest[k] + 1e-6 || found[k] >= highest[k] - 1e-6)) fit.at_edge = true;
    fit.after_s = timesAt(fitting, found);
    fit.after_share = rms(fit.after_s);
  }
  constexpr double explained = 0.01;  // less is how well a clock on the wall is read
  if (corners && fit.after_share > explained) {
    Machine halting = machine;
    halting.cornering = Cornering::exact_stop;
    const double share = fitClock(runs, halting, feed_override).after_share;
    if (share < fit.after_share / 2) fit.exact_stop_share = share;
  }
  return fit;
}

}  // namespace provecut::clock
