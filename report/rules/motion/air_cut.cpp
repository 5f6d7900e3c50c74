#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <set>
#include <string>

#include "report/base/number_text.h"
#include "report/facts/finish_order.h"
#include "report/facts/measures.h"
#include "report/facts/setup_changes.h"
#include "report/rules/list.h"
#include "report/rules/shared/height_advice.h"
#include "report/rules/shared/moves_by_tool.h"
#include "sim/clock/job_clock.h"
#include "sim/clock/path_limits.h"

namespace provecut {

namespace air_cut {

constexpr double share_allowed = 0.5;  // our own choices, no source
constexpr double least_saved_s = 60, least_saved_share = 0.1;

constexpr std::string_view page = R"(## What it finds

More than half of a program's cutting time goes into moves that cut nothing. Each move is timed at its feed rate.
Acceleration is left out, and so is the approach from the unknown position at the start.

A level pass at the very top of the stock counts as cutting: it skims a board that is thicker than said, or not flat.

Full circles that climb are not counted: that is thread milling.

A roughing program that cuts air because its finishing ran before it is finish-first's.

Of a canned cycle, what it feeds from R down to the material counts as air. Where a lower R would save at least a
minute, and a tenth of the cutting time, or is most of the air in a program that is mostly air, that is told with the R to use. That R is `limits.clearance` above the top of
the stock, or above the highest hold-down where the cycle goes from hole to hole at R. The same goes for a cycle that
goes back up far above R after every hole: G99 ends that.

## Why it matters

It costs time. It may also be a sign: zero set too high, stock thinner than drawn, or a program that was already run.

## Example

The first three passes of a pocket run above the stock because Z was zeroed on the spoilboard.

## What to do

Check the zero and the stock's thickness. If they are right, start the passes lower, or shorten the lead-in and
lead-out. In a drilling cycle lower R.

## What `amount` is

The share of the cutting time that cuts nothing, in percent. For a cycle, the share that a lower R would save.

## Source

The limits are our own choice.
)";

double secondsAtFeed(const Motion& m, const clock::AxisLimits& axes) {
  const double length_mm = isArc(m) ? clock::movePath(m, axes, 0).length_mm : length(m.end - m.start);
  return length_mm * 60 / m.feed_mm_min;
}

// A thread mill climbs in its bore: only its teeth cut, and the job file's tool has none.
bool climbsLikeAThread(const Motion& m) {
  return isArc(m) && m.plane == Plane::xy && m.end.z > m.start.z && m.start.x == m.end.x && m.start.y == m.end.y;
}

// What a program's cutting moves do, timed at their feed.
struct CuttingTime {
  double all_s = 0, air_s = 0;
  std::uint32_t air_moves = 0;
  double above_s = 0;  // of the air, what goes sideways above the stock
  bool spindle_on = false;
  // The longest run of moves that cut nothing.
  double longest_s = 0;
  std::uint32_t longest_start = 0, longest_end = 0;
};

// A level cut at the very top of the stock: it takes off what the board is thicker than said, or not flat.
bool skims(const Facts& facts, std::size_t program, const Motion& motion) {
  constexpr double written_mm = 0.002;
  const double top_z = stockTopZ(facts, *facts.programs[program].setup);
  return std::abs(lowestTip(motion).z - top_z) <= written_mm && std::abs(motion.start.z - motion.end.z) <= written_mm;
}

// The lowest R that keeps clear of the stock, and of hold-downs where the tool goes from hole to hole at R.
double neededR(const Facts& facts, std::size_t program) {
  const std::vector<Motion>& motions = facts.programs[program].program.motions;
  bool travels_at_r = false;
  for (std::size_t m = 1; m < motions.size(); ++m) {
    const Motion &before = motions[m - 1], &plunge = motions[m];
    const bool from_r = (plunge.flags & motion_in_cycle) && feeds(plunge) && plunge.start.z == before.end.z;
    travels_at_r = travels_at_r || (from_r && before.kind == MotionKind::rapid && goesSideways(before));
  }
  const ProgramFacts& p = facts.programs[program];
  return facts.job.limits.clearance_mm + (travels_at_r ? highestStanding(facts, p).z : stockTopZ(facts, *p.setup));
}

// How much of a feed move goes through air without need, 0 to 1: the way from the R that a cycle needs does not count.
double avoidableAir(const Facts& facts, std::size_t program, std::uint32_t m, double needed_r) {
  const Motion& motion = facts.programs[program].program.motions[m];
  const MoveCut cut = cutOf(facts, program, m);
  const double air = clock::airShare(facts.job, motion, cut);
  const bool peck = (motion.flags & motion_in_cycle) && !goesSideways(motion) && needed_r > motion.end.z;
  if (air <= 0 || (cut.removed_mm3 <= 0 && !peck)) return air;
  if (needed_r >= motion.start.z) return cut.removed_mm3 > 0 ? 0 : air;
  return std::min(air, (motion.start.z - needed_r) / (motion.start.z - motion.end.z));
}

// Absent where a tool is not known.
std::optional<CuttingTime> cuttingTime(const Facts& facts, std::size_t program, const clock::AxisLimits& axes) {
  const std::vector<Motion>& motions = facts.programs[program].program.motions;
  const double needed_r = neededR(facts, program);
  CuttingTime time;
  double run_s = 0;
  std::uint32_t run_start = 0;
  const Tool* tool = nullptr;
  for (std::uint32_t m = 0; m < motions.size(); ++m) {
    const Motion& motion = motions[m];
    if (!feeds(motion) || motion.feed_mm_min <= 0 || (motion.flags & motion_approach)) continue;
    if (climbsLikeAThread(motion)) continue;
    if (!tool || tool->number != motion.tool) tool = findTool(facts.job, motion.tool);
    if (!tool) return std::nullopt;
    time.spindle_on = time.spindle_on || motion.spindle != Spindle::off;
    const double own_s = secondsAtFeed(motion, axes);
    time.all_s += own_s;
    const double air = skims(facts, program, motion) ? 0 : avoidableAir(facts, program, m, needed_r);
    time.air_s += air * own_s;
    if (air > 0 && goesSideways(motion) && lowestTip(motion).z > stockTopZ(facts, *facts.programs[program].setup))
      time.above_s += own_s;
    if (air > 0) ++time.air_moves;
    if (air < 1) {
      run_s = 0;
      continue;
    }
    if (run_s == 0) run_start = m;
    run_s += own_s;
    if (run_s > time.longest_s) {
      time.longest_s = run_s;
      time.longest_start = run_start;
      time.longest_end = m;
    }
  }
  return time;
}

// What a program's cycles feed through air from an R that is higher than it need be.
struct HighCycles {
  std::vector<Occurrence> plunges;
  double needed_z = 0;
  double saved_s = 0;
};

HighCycles highCycles(const Facts& facts, std::size_t program) {
  HighCycles high;
  high.needed_z = neededR(facts, program);
  const std::vector<Motion>& motions = facts.programs[program].program.motions;
  for (std::uint32_t m = 0; m < motions.size(); ++m) {
    const Motion& motion = motions[m];
    const bool plunge = (motion.flags & motion_in_cycle) && feeds(motion) && motion.feed_mm_min > 0 &&
                        motion.end.z < motion.start.z && !goesSideways(motion);
    if (!plunge || motion.start.z <= high.needed_z) continue;
    const double saved_mm = (motion.start.z - motion.end.z) * avoidableAir(facts, program, m, high.needed_z);
    if (saved_mm <= 0) continue;
    high.saved_s += saved_mm * 60 / double{motion.feed_mm_min};
    high.plunges.push_back({m, motion.start.z - high.needed_z, motion.start});
  }
  return high;
}

// Told where it costs enough.
bool addHighCycles(const Facts& facts, std::size_t program, const CuttingTime& time, std::vector<Finding>& findings) {
  const HighCycles high = highCycles(facts, program);
  const bool most_of_much_air = time.air_s > share_allowed * time.all_s && high.saved_s > share_allowed * time.air_s;
  const bool enough = high.saved_s >= least_saved_s && high.saved_s >= least_saved_share * time.all_s;
  if (!enough && !most_of_much_air) return false;
  Finding f = groupFinding(facts, program, air_cut_rule, high.plunges, Worst::largest, Quantity::length);
  const double top_z = stockTopZ(facts, *facts.programs[program].setup);
  const bool even = worstOf(high.plunges, Worst::largest).amount == worstOf(high.plunges, Worst::smallest).amount;
  const std::string above =
      quantityText(facts.job, Quantity::length, worstOf(high.plunges, Worst::largest).amount + high.needed_z - top_z);
  f.amount = 100 * high.saved_s / time.all_s;
  f.unit.assign(1, '%');
  f.amount_text.clear();
  f.message = fmt::format("the cycles' R is {} above the stock: a lower R saves {} of {} cutting time",
                          (even ? "" : "up to ") + above, durationText(high.saved_s), durationText(time.all_s));
  f.help = sentence(lowerRText(facts, program, high.needed_z));
  findings.push_back(std::move(f));
  return true;
}

// What cycles go up and down again by rapid between R and a far higher level, hole after hole.
void addHighLifts(const Facts& facts, std::size_t program, const CuttingTime& time, std::vector<Finding>& findings) {
  const ProgramFacts& p = facts.programs[program];
  const double rate = facts.job.machine.max_rate_mm_min.z;
  const double enough_z = highestStanding(facts, p).z + facts.job.limits.clearance_mm;
  std::vector<Occurrence> lifts;
  double lifted_s = 0;
  for (std::uint32_t m = 0; m < p.program.motions.size(); ++m) {
    const Motion& motion = p.program.motions[m];
    const bool in_cycle = (motion.flags & motion_in_cycle) && motion.kind == MotionKind::rapid && !goesSideways(motion);
    const double over_mm =
        std::max(motion.start.z, motion.end.z) - std::max(enough_z, std::min(motion.start.z, motion.end.z));
    if (!in_cycle || over_mm <= 0 || (motion.flags & (motion_start_unknown | motion_height_unknown))) continue;
    lifted_s += over_mm * 60 / rate;
    lifts.push_back({m, std::max(motion.start.z, motion.end.z) - stockTopZ(facts, *p.setup), motion.end});
  }
  if (rate <= 0 || lifted_s < least_saved_s || lifted_s < least_saved_share * (time.all_s + lifted_s)) return;
  Finding f = groupFinding(facts, program, air_cut_rule, lifts, Worst::largest, Quantity::length);
  const std::string above = quantityText(facts.job, Quantity::length, *f.amount);
  f.amount = 100 * lifted_s / (time.all_s + lifted_s);
  f.unit.assign(1, '%');
  f.amount_text.clear();
  f.message = fmt::format("cycles go back up to {} above the stock after every hole: {} of rapids for {} of cutting",
                          above, durationText(lifted_s), durationText(time.all_s));
  f.help = fmt::format("Use G99: the tool then goes back up only to R. R at {} or higher clears everything there.",
                       heightText(facts, program, enough_z));
  findings.push_back(std::move(f));
}

// True where nearly all moves of the longest stretch in air go just where one before them went.
bool repeatsPath(const std::vector<Motion>& motions, const CuttingTime& time) {
  constexpr double nearly_all = 0.9;
  const auto key = [](const Motion& m) {
    return std::array{m.start.x, m.start.y, m.start.z, m.end.x, m.end.y, m.end.z};
  };
  std::set<std::array<double, 6>> before;
  for (std::uint32_t m = 0; m < time.longest_start; ++m) {
    if (feeds(motions[m])) before.insert(key(motions[m]));
  }
  int moves = 0, again = 0;
  for (std::uint32_t m = time.longest_start; m <= time.longest_end; ++m) {
    if (!feeds(motions[m])) continue;
    ++moves;
    if (before.contains(key(motions[m]))) ++again;
  }
  return moves > 0 && again >= nearly_all * moves;
}

// Holes that stay in the air since G91 made increments of R and depth: cycle-kept-increments tells that.
bool keptAsIncrements(const Program& program, const Motion& longest) {
  return (longest.flags & motion_in_cycle) &&
         std::any_of(program.problems.begin(), program.problems.end(), [&](const Problem& problem) {
           return problem.kind == ProblemKind::cycle_kept_as_increments && problem.place.line <= longest.line;
         });
}

std::string adviceFor(const std::vector<Motion>& motions, const CuttingTime& time) {
  if (repeatsPath(motions, time))
    return fmt::format("Lines {} to {} run a path a second time that is cut already: delete them if that is not meant.",
                       motions[time.longest_start].line, motions[time.longest_end].line);
  if (time.above_s > share_allowed * time.air_s)
    return "The tool travels above the stock at its cutting feed: make these moves rapids (G0).";
  return "Check the zero and the stock's thickness. If they are right, start lower or shorten the lead-in and "
         "lead-out.";
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  const clock::AxisLimits axes = clock::axisLimits(facts.job.machine);
  for (std::size_t i = 0; i < facts.programs.size() && i < facts.run.programs.size(); ++i) {
    const std::optional<CuttingTime> time = cuttingTime(facts, i, axes);
    if (!time || time->all_s <= 0) continue;
    const std::vector<Motion>& motions = facts.programs[i].program.motions;
    if (time->air_s > 0 && keptAsIncrements(facts.programs[i].program, motions[time->longest_start])) continue;
    // Where a lower R alone brings the air down to what is allowed, it is the whole story.
    const std::size_t before = findings.size();
    const bool high_r = addHighCycles(facts, i, *time, findings);
    if (!high_r && machineKnown(facts)) addHighLifts(facts, i, *time, findings);
    if (high_r) {
      const double saved_s = *findings[before].amount / 100 * time->all_s;
      if (time->air_s - saved_s <= share_allowed * (time->all_s - saved_s)) continue;
    }
    if (time->air_s <= share_allowed * time->all_s) continue;
    if (time->spindle_on && time->air_s >= time->all_s) continue;  // all of it: cuts-nothing
    if (!setupChanges(facts, i).empty()) continue;                 // the others' cuts are not in this stock
    if (isRoughedTooLate(facts, i)) continue;
    Finding f = placeFinding(facts, i, air_cut_rule, placeOf(motions[time->longest_start]));
    f.last_line = std::max(f.last_line, motions[time->longest_end].line);
    f.moves = time->air_moves;
    f.at = motions[time->longest_start].start;
    f.amount = 100 * time->air_s / time->all_s;
    f.unit.assign(1, '%');
    if (time->air_s >= time->all_s) {  // the spindle is off, else it is cuts-nothing
      f.message =
          fmt::format("all cutting moves are in air ({}), and the spindle never starts", durationText(time->air_s));
      f.help = "Start the spindle (M3 with S), and check the zero and the stock's thickness.";
    } else {
      f.message =
          fmt::format("{:.0f} % of the cutting time is in air: {} of {}; the longest stretch starts here ({})",
                      *f.amount, durationText(time->air_s), durationText(time->all_s), durationText(time->longest_s));
      f.help = adviceFor(motions, *time);
    }
    findings.push_back(std::move(f));
  }
}

}  // namespace air_cut

const Rule air_cut_rule{"air-cut", Level::note, "Most of the cutting time is in air.", air_cut::page, air_cut::check};

}  // namespace provecut
