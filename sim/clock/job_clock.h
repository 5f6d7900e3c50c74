// How long each program of a job takes, with a low and a high bound that follow from stated assumptions.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/clock/clock.h"
#include "sim/observed/move_cut.h"
#include "sim/observed/time_spent.h"
#include "sim/path/programs.h"

namespace provecut::clock {

struct ProgramTimes {
  TimeSpent time, low, high;
  Plan plan;                                   // of `time`; the change of tool before the program is not in it
  std::vector<float> low_move_s, high_move_s;  // one per motion; low_move_s is empty where it would be plan.move_s
  double change_before_s =
      0;  // the tool is changed by hand between the program before and this one; in `time` and `high`
};

struct JobClockOptions {
  double feed_override = 1;
  bool keep_speeds = false;
  bool keep_peaks = false;
  bool bounds = true;  // false: ProgramTimes::low and high stay empty
};

// `programs` in the order of the job. A program that starts with another tool than the one before left in the spindle
// begins with a tool change; the first tool is part of setting up.
std::vector<ProgramTimes> jobTimes(const Job& job, const Programs& programs, const JobClockOptions& options = {});

// Takes the feed that removes nothing out of `cutting_s` and into `air_s`, for all three times. `cuts`: one per
// motion, of the stock as it was at that moment. Moves of a tool that the job does not define count as cutting.
void shareOutAir(const Job& job, const Program& program, std::span<const MoveCut> cuts, ProgramTimes& times);

// How much of a feed move of a known tool goes through air, 0 to 1: all of one that takes nothing from the stock, and
// what a canned cycle feeds straight down before it meets the material.
double airShare(const Job& job, const Motion& motion, const MoveCut& cut);

// What the three times rest on, in words, one assumption each.
struct TimeAssumptions {
  std::vector<std::string> time, low, high;
};
TimeAssumptions timeAssumptions(const Machine& machine, const JobClockOptions& options = {});
// The same for a job: also what the programs say of their corners.
TimeAssumptions timeAssumptions(const Job& job, const Programs& programs, const JobClockOptions& options = {});

}  // namespace provecut::clock
