#include <fmt/core.h>

#include <algorithm>
#include <optional>

#include "report/base/number_text.h"
#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/moves_by_tool.h"
#include "sim/clock/path_limits.h"

namespace provecut {

namespace air_cut {

constexpr double share_allowed = 0.5;  // our own choice, no source

constexpr std::string_view page = R"(## What it finds

More than half of a program's cutting time goes into moves that cut nothing. Each move is timed at its feed rate.
Acceleration is left out, and so is the approach from the unknown position at the start.

## Why it matters

It costs time. It may also be a sign: zero set too high, stock thinner than drawn, or a program that was already run.

## Example

The first three passes of a pocket run above the stock because Z was zeroed on the spoilboard.

## What to do

Check the zero and the stock's thickness. If they are right, start the passes lower, or shorten the lead-in and
lead-out.

## What `amount` is

The share of the cutting time that cuts nothing, in percent.

## Source

The limit of half is our own choice.
)";

double secondsAtFeed(const Motion& m, const clock::AxisLimits& axes) {
  const double length_mm = isArc(m) ? clock::movePath(m, axes, 0).length_mm : length(m.end - m.start);
  return length_mm * 60 / m.feed_mm_min;
}

// What a program's cutting moves do, timed at their feed.
struct CuttingTime {
  double all_s = 0, air_s = 0;
  std::uint32_t air_moves = 0;
  bool spindle_on = false;
  // The longest run of moves that cut nothing.
  double longest_s = 0;
  std::uint32_t longest_start = 0, longest_end = 0;
};

// Absent where a tool is not known.
std::optional<CuttingTime> cuttingTime(const Facts& facts, std::size_t program, const clock::AxisLimits& axes) {
  const std::vector<Motion>& motions = facts.programs[program].program.motions;
  CuttingTime time;
  double run_s = 0;
  std::uint32_t run_start = 0;
  const Tool* tool = nullptr;
  for (std::uint32_t m = 0; m < motions.size(); ++m) {
    const Motion& motion = motions[m];
    if (!feeds(motion) || motion.feed_mm_min <= 0 || (motion.flags & motion_approach)) continue;
    if (!tool || tool->number != motion.tool) tool = findTool(facts.job, motion.tool);
    if (!tool) return std::nullopt;
    time.spindle_on = time.spindle_on || motion.spindle != Spindle::off;
    const double own_s = secondsAtFeed(motion, axes);
    time.all_s += own_s;
    if (cutOf(facts, program, m).removed_mm3 > 0) {
      run_s = 0;
      continue;
    }
    ++time.air_moves;
    time.air_s += own_s;
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

void check(const Facts& facts, std::vector<Finding>& findings) {
  const clock::AxisLimits axes = clock::axisLimits(facts.job.machine);
  for (std::size_t i = 0; i < facts.programs.size() && i < facts.run.programs.size(); ++i) {
    const std::optional<CuttingTime> time = cuttingTime(facts, i, axes);
    if (!time || time->all_s <= 0 || time->air_s <= share_allowed * time->all_s) continue;
    if (time->spindle_on && time->air_s >= time->all_s) continue;  // all of it: cuts-nothing
    const std::vector<Motion>& motions = facts.programs[i].program.motions;
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
      f.help =
          "Check the zero and the stock's thickness. If they are right, start lower or shorten the lead-in and "
          "lead-out.";
    }
    findings.push_back(std::move(f));
  }
}

}  // namespace air_cut

const Rule air_cut_rule{"air-cut", Level::note, "Most of the cutting time is in air.", air_cut::page, air_cut::check};

}  // namespace provecut
