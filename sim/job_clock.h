// How long each program of a job takes, with a low and a high bound that follow from stated assumptions.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "sim/clock.h"

namespace provecut {

struct ProgramTimes {
  TimeSpent time, low, high;
  Plan plan;                 // of `time`; the change of tool before the program is not in it
  double change_before_s = 0;  // the tool is changed by hand between the program before and this one; in `time` and `high`
};

struct JobClockOptions {
  double feed_override = 1;
  bool keep_speeds = false;
  bool keep_peaks = false;
};

// `programs` in the order of the job. A program that starts with another tool than the one before left in the spindle
// begins with a tool change; the first tool is part of setting up.
std::vector<ProgramTimes> jobTimes(const Job& job, std::span<const Program> programs, const JobClockOptions& options = {});

// What the three times rest on, in words, one assumption each.
struct TimeAssumptions {
  std::vector<std::string> time, low, high;
};
TimeAssumptions timeAssumptions(const Machine& machine, const JobClockOptions& options = {});

TimeSpent operator+(const TimeSpent& a, const TimeSpent& b);

}  // namespace provecut
