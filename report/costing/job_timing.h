// What `time` and `quote` know of a job: its programs planned, and what the measured times say about the machine.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "report/costing/quote.h"
#include "report/facts/facts.h"
#include "sim/clock/clock_fit.h"
#include "sim/clock/time_report.h"

namespace provecut {

struct MachineFit {
  clock::ClockFit clock;
  std::vector<std::string> programs;  // measured, in the order of ClockFit::before_s
  std::vector<double> measured_s;
  std::vector<std::string> left_out;  // measured programs that the job does not have, or has with nothing in them
};

struct JobTiming {
  std::unique_ptr<Facts> facts;
  clock::TimeReport report;
  std::optional<MachineFit> fit;
  std::vector<std::string> too_short;  // why a program's time is: not read whole, or no feed
};

// Why the times of programs are too short: not read whole, or no feed.
std::vector<std::string> timesTooShort(const Facts& facts);

// What the times of a simulation rest on.
clock::TimeAssumptions simulatedAssumptions(const Facts& facts);

// The [quote] of a job with the times of its simulation, nothing planned again. As it may be shown; a price that is too
// low for want of time says so among its assumptions.
Quotation simulatedQuotation(const Facts& facts);

// Plans every program of the job. `fit`: also compare with the job's measured times.
JobTiming timeJob(std::unique_ptr<Facts> facts, double feed_override, bool fit);

}  // namespace provecut
