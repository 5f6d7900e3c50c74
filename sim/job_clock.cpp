#include "sim/job_clock.h"

#include <charconv>
#include <utility>

#include "parser/prove.h"

namespace provecut {
namespace {

constexpr double weaker_acceleration = 0.7;

std::string shown(double value) {
  char text[32];
  const auto [end, error] = std::to_chars(text, text + sizeof text, value, std::chars_format::general, 6);
  return error == std::errc() ? std::string(text, end) : std::string("?");
}

Machine weaker(const Machine& machine) {
  Machine m = machine;
  m.acceleration_mm_s2 = machine.acceleration_mm_s2 * weaker_acceleration;
  return m;
}

// As set, and nobody is waited for.
TimeSpent lowOf(const Program& program, const Machine& machine, const PlanOptions& options, const TimeSpent& time) {
  TimeSpent low = time;
  if (machine.blocks_per_second > 0) {
    Machine m = machine;
    m.blocks_per_second = 0;
    low = plan(program, m, options).time;
  }
  low.tool_change_s = low.spindle_s = low.stop_s = 0;
  return low;
}

int toolAtEnd(const Program& program, const Plan& plan) {
  if (plan.tool_at_end != 0) return plan.tool_at_end;
  return program.motions.empty() ? 0 : program.motions.back().tool;
}

}  // namespace

TimeSpent operator+(const TimeSpent& a, const TimeSpent& b) {
  return {a.cutting_s + b.cutting_s, a.rapid_s + b.rapid_s,     a.dwell_s + b.dwell_s,
          a.stop_s + b.stop_s,       a.spindle_s + b.spindle_s, a.tool_change_s + b.tool_change_s};
}

std::vector<ProgramTimes> jobTimes(const Job& job, std::span<const Program> programs, const JobClockOptions& options) {
  std::vector<ProgramTimes> times;
  const Machine high_machine = weaker(job.machine);
  int in_spindle = 0;
  std::size_t next = 0;
  for (const Setup& setup : job.setups)
    for (const ProgramEntry& entry : setup.programs) {
      PROVE(next < programs.size());
      const Program& program = programs[next++];
      ProgramTimes& t = times.emplace_back();
      if (entry.tool != 0 && in_spindle != 0 && entry.tool != in_spindle) t.change_before_s = job.machine.tool_change_s;
      if (entry.tool != 0) in_spindle = entry.tool;

      PlanOptions plan_options;
      plan_options.tool_in_spindle = in_spindle;
      plan_options.feed_override = options.feed_override;
      PlanOptions high_options = plan_options;
      high_options.program_stop_s = job.machine.tool_change_s;
      plan_options.keep_speeds = options.keep_speeds;
      plan_options.keep_peaks = options.keep_peaks;
      t.plan = plan(program, job.machine, plan_options);
      t.time = t.plan.time;
      plan_options.keep_speeds = plan_options.keep_peaks = false;
      t.low = lowOf(program, job.machine, plan_options, t.time);
      t.high = plan(program, high_machine, high_options).time;
      t.time.tool_change_s += t.change_before_s;
      t.high.tool_change_s += t.change_before_s;
      in_spindle = toolAtEnd(program, t.plan);
    }
  return times;
}

TimeAssumptions timeAssumptions(const Machine& machine, const JobClockOptions& options) {
  TimeAssumptions a;
  const std::string corners = machine.cornering == Cornering::exact_stop
                                  ? "a halt at the end of every block"
                                  : "corners with a junction deviation of " + shown(machine.junction_deviation_mm) + " mm";
  const std::string waits = "each tool change takes " + shown(machine.tool_change_s) + " s and each spindle start " +
                            shown(machine.spindle_start_s) + " s";
  a.time = {"axis rates and accelerations as set, " + corners, waits,
            "program stops (M0, M1, M60) take no time"};
  a.low = {"axis rates and accelerations as set, " + corners,
           "tool changes, spindle starts and program stops take no time"};
  a.high = {"accelerations 30 % lower than set, " + corners, waits,
            "each program stop (M0, M1, M60) takes as long as a tool change"};
  if (machine.blocks_per_second > 0) {
    const std::string fed = "no more than " + shown(machine.blocks_per_second) + " blocks a second reach the machine";
    a.time.push_back(fed);
    a.low.push_back("blocks reach the machine as fast as it can drive them");
    a.high.push_back(fed);
  }
  if (machine.jerk_mm_s3 > 0) {
    const std::string jerk = "acceleration changes by at most " + shown(machine.jerk_mm_s3) + " mm/s3 along the path";
    for (auto* list : {&a.time, &a.low, &a.high}) list->push_back(jerk);
  }
  if (machine.rapids == Rapids::independent)
    for (auto* list : {&a.time, &a.low, &a.high}) list->push_back("on rapids each axis goes at its own rate and halts at the end");
  if (options.feed_override != 1)
    for (auto* list : {&a.time, &a.low, &a.high}) list->push_back("feeds at " + shown(options.feed_override * 100) + " % of the programmed");
  return a;
}

}  // namespace provecut
