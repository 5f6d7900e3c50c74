#include "sim/clock/job_clock.h"

#include <algorithm>
#include <charconv>
#include <utility>

#include "parser/base/check.h"

namespace provecut::clock {
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

bool isApproach(const Motion& m) {
  return (m.flags & motion_approach) != 0;
}

// As set, nobody is waited for, and the tool stands where each program begins.
void addLow(const Program& program, const Machine& machine, const PlanOptions& options, ProgramTimes& times) {
  times.low = times.time;
  if (machine.blocks_per_second > 0) {
    Machine m = machine;
    m.blocks_per_second = 0;
    Plan low = plan(program, m, options);
    times.low = low.time;
    times.low_move_s = std::move(low.move_s);
  }
  times.low.tool_change_s = times.low.spindle_s = times.low.stop_s = 0;
  for (std::size_t i = 0; i < program.motions.size(); ++i) {
    if (!isApproach(program.motions[i])) continue;
    if (times.low_move_s.empty()) times.low_move_s = times.plan.move_s;
    times.low.rapid_s = std::max(0.0, times.low.rapid_s - times.low_move_s[i]);
    times.low_move_s[i] = 0;
  }
}

void takeOut(double air_s, TimeSpent& time) {
  const double feed_s = time.feed_s();
  time.air_s = std::min(air_s, feed_s);
  // The times of single moves are rounded: what is left of a sum of them is nothing.
  time.cutting_s = feed_s - time.air_s > 1e-6 * feed_s ? feed_s - time.air_s : 0;
  time.air_s = feed_s - time.cutting_s;
}

int toolAtEnd(const Program& program, const Plan& plan) {
  if (plan.tool_at_end != 0) return plan.tool_at_end;
  return program.motions.empty() ? 0 : program.motions.back().tool;
}

}  // namespace

std::vector<ProgramTimes> jobTimes(const Job& job, const Programs& programs, const JobClockOptions& options) {
  std::vector<ProgramTimes> times;
  const Machine high_machine = weaker(job.machine);
  int in_spindle = 0;
  std::size_t next = 0;
  for (const Setup& setup : job.setups)
    for (const ProgramEntry& entry : setup.programs) {
      CHECK(next < programs.size());
      const Program& program = programs[next++];
      ProgramTimes& t = times.emplace_back();
      if (entry.tool != 0 && in_spindle != 0 && entry.tool != in_spindle) t.change_before_s = job.machine.tool_change_s;
      if (entry.tool != 0) in_spindle = entry.tool;

      PlanOptions plan_options;
      plan_options.tool_in_spindle = in_spindle;
      plan_options.feed_override = options.feed_override;
      PlanOptions high_options = plan_options;
      high_options.program_stop_s = job.machine.tool_change_s;
      plan_options.approach_as_rapid = true;
      plan_options.keep_speeds = options.keep_speeds;
      plan_options.keep_peaks = options.keep_peaks;
      t.plan = plan(program, job.machine, plan_options);
      t.time = t.plan.time;
      plan_options.keep_speeds = plan_options.keep_peaks = false;
      t.time.tool_change_s += t.change_before_s;
      in_spindle = toolAtEnd(program, t.plan);
      if (!options.bounds) continue;
      addLow(program, job.machine, plan_options, t);
      Plan high = plan(program, high_machine, high_options);
      t.high = high.time;
      // A plan with a limited jerk is not the best there is, so that lower accelerations may gain a little.
      t.high.cutting_s = std::max(t.high.cutting_s, t.time.cutting_s);
      t.high.rapid_s = std::max(t.high.rapid_s, t.time.rapid_s);
      t.high_move_s = std::move(high.move_s);
      t.high.tool_change_s += t.change_before_s;
    }
  return times;
}

double airShare(const Job& job, const Motion& motion, const MoveCut& cut) {
  if (countsAsRapid(motion) || motion.kind == MotionKind::dwell || !findTool(job, motion.tool)) return 0;
  if (!(cut.removed_mm3 > 0)) return 1;
  const bool down = motion.kind == MotionKind::feed && motion.end.z < motion.start.z &&
                    motion.end.x == motion.start.x && motion.end.y == motion.start.y;
  if (!down || !(motion.flags & motion_in_cycle)) return 0;
  const double way_mm = motion.start.z - motion.end.z;
  return std::clamp(1 - double{cut.axial_depth_mm} / way_mm, 0.0, 1.0);
}

void shareOutAir(const Job& job, const Program& program, std::span<const MoveCut> cuts, ProgramTimes& times) {
  const std::vector<float>& low = times.low_move_s.empty() ? times.plan.move_s : times.low_move_s;
  double air_s = 0, low_s = 0, high_s = 0;
  for (std::size_t i = 0; i < program.motions.size() && i < cuts.size(); ++i) {
    const double air = airShare(job, program.motions[i], cuts[i]);
    if (air <= 0) continue;
    air_s += air * double{times.plan.move_s[i]};
    low_s += air * double{low[i]};
    high_s += air * double{times.high_move_s[i]};
  }
  takeOut(air_s, times.time);
  takeOut(low_s, times.low);
  takeOut(high_s, times.high);
}

TimeAssumptions timeAssumptions(const Job& job, const Programs& programs, const JobClockOptions& options) {
  TimeAssumptions a = timeAssumptions(job.machine, options);
  const bool approaches = std::any_of(programs.begin(), programs.end(), [](const Program* p) {
    return std::any_of(p->motions.begin(), p->motions.end(), isApproach);
  });
  if (approaches) {
    a.time.push_back("each program is assumed to start over X0 Y0 with Z fully up and to go from there at rapid");
    a.low.push_back("the tool already stands where each program begins");
    a.high.push_back(
        "each program is assumed to start over X0 Y0 with Z fully up and to go from there at its programmed feeds");
  }
  double least_mm = 0, max_mm = 0;
  bool rounded = false, exact = false, stopped = false;
  for (const Program* p : programs)
    for (const PathControlChange& c : p->path_control) {
      exact = exact || c.control == PathControl::exact_path;
      stopped = stopped || c.control == PathControl::exact_stop;
      if (c.control != PathControl::tolerance) continue;
      least_mm = rounded ? std::min(least_mm, c.tolerance_mm) : c.tolerance_mm;
      max_mm = std::max(max_mm, c.tolerance_mm);
      rounded = true;
    }
  const auto add = [&](const std::string& text) {
    for (auto* list : {&a.time, &a.low, &a.high}) list->push_back(text);
  };
  if (job.machine.cornering == Cornering::exact_stop) {
    if (rounded || exact)
      add("the machine stops at the end of every block; G61 and G64 in the programs change nothing");
    return a;
  }
  if (stopped) add("a stop at the end of every block under G61.1");
  if (exact) add("under G61 corners are held to " + shown(exact_path_mm) + " mm");
  if (rounded)
    add("under G64 P corners are rounded within " + shown(least_mm) +
        (max_mm > least_mm ? " to " + shown(max_mm) : "") +
        " mm, by an arc no longer than half the shorter move; the path is not counted as shorter");
  return a;
}

TimeAssumptions timeAssumptions(const Machine& machine, const JobClockOptions& options) {
  TimeAssumptions a;
  const std::string corners =
      machine.cornering == Cornering::exact_stop
          ? "a stop at the end of every block"
          : "corners as if rounded by " + shown(machine.junction_deviation_mm) + " mm (junction deviation)";
  std::string waits = "each tool change takes " + shown(machine.tool_change_s) + " s and each spindle start " +
                      shown(machine.spindle_start_s) + " s";
  if (machine.spindle_stop_s > 0) waits += ", each spindle stop " + shown(machine.spindle_stop_s) + " s";
  const std::string axes = "axis rates as set", as_set = "accelerations as set";
  a.time = {axes, corners, as_set, waits, "program stops (M0, M1, M60) take no time"};
  a.low = {axes, corners, as_set, "tool changes, spindle starts and stops, and program stops take no time"};
  a.high = {axes, corners, "accelerations 30 % lower than set", waits,
            "each program stop (M0, M1, M60) takes as long as a tool change"};
  if (machine.blocks_per_second > 0) {
    const std::string fed = "at most " + shown(machine.blocks_per_second) + " blocks a second reach the machine";
    a.time.push_back(fed);
    a.low.push_back("blocks reach the machine as fast as it can run them");
    a.high.push_back(fed);
  }
  const auto addToAll = [&](const std::string& text) {
    for (auto* list : {&a.time, &a.low, &a.high}) list->push_back(text);
  };
  if (machine.look_ahead_blocks > 0)
    addToAll("speed kept so that the machine can stop within the " + shown(machine.look_ahead_blocks) +
             " blocks it sees ahead (an arc is one)");
  if (machine.arc_acceleration == ArcAcceleration::apart)
    addToAll("on arcs, acceleration along the path and towards the centre are limited separately");
  else if (machine.jerk_mm_s3 > 0)
    addToAll("on arcs, at most 0.6 of the weaker axis' acceleration goes along the path and 0.8 towards the centre");
  else
    addToAll("on arcs, acceleration along the path and towards the centre share what the weaker axis gives");
  if (machine.jerk_mm_s3 > 0)
    addToAll("acceleration changes by at most " + shown(machine.jerk_mm_s3) + " mm/s³ along the path");
  if (machine.rapids == Rapids::independent) addToAll("on rapids each axis moves at its own rate and stops at the end");
  if (options.feed_override != 1) addToAll("feeds at " + shown(options.feed_override * 100) + " % of the programmed");
  return a;
}

}  // namespace provecut::clock
