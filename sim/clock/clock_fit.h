// Which acceleration and junction deviation explain the times measured at the machine.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/clock/clock.h"

namespace provecut::clock {

struct MeasuredRun {
  const Program* program = nullptr;
  int tool_in_spindle = 0;  // at its start
  double seconds = 0;       // by the clock on the wall, above 0
};

struct ClockFit {
  double acceleration_factor = 1;  // on every axis' acceleration as set
  double junction_deviation_mm = 0;
  bool acceleration_found = false;  // false: the programs hardly depend on it, so it stays as set
  bool junction_found = false;      // the same; also with fewer than two different programs and with exact stop
  bool at_edge = false;             // a value lies at the edge of what was tried: the times fit no sensible machine
  std::vector<double> before_s, after_s;     // planned, as set and as found, one per run
  double before_share = 0, after_share = 0;  // root mean square of (planned - measured) / measured
  std::optional<double>
      exact_stop_share;  // after_share of a machine that halts after every block, where that explains more
};

// Least squares of (planned - measured) / measured, so that a long program does not drown a short one, over the
// logarithms of both values: a coarse grid, then damped Gauss-Newton steps. Factor 1/50 to 50, deviation 0.001 to 1 mm.
ClockFit fitClock(std::span<const MeasuredRun> runs, const Machine& machine, double feed_override = 1);

}  // namespace provecut::clock
