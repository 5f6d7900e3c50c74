#include <algorithm>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "sim/clock/path_limits.h"

namespace provecut {

namespace {

constexpr double share_allowed = 0.5;  // our own choice, no source

constexpr std::string_view page = R"(## What it finds

A program that spends more than half of its feed time on moves that take nothing from the stock. Each move is timed at its feed;
the machine's own limits are left out.

## Why it matters

It costs time, and it may be a sign: a zero too high, stock thinner than drawn, or a program that was run already.

## Example

A pocket whose first three passes run above the stock because Z was zeroed on the spoilboard.

## What to do

Check the zero and the stock's thickness. If they are right, start the passes lower, or make the way in and out shorter.

## What `amount` is

The share of the feed time that removes nothing, in percent.

## Source

The limit of half is our own choice.
)";

double secondsAtFeed(const Motion& m, const clock::AxisLimits& axes) {
  const double length_mm = isArc(m) ? clock::movePath(m, axes, 0).length_mm : length(m.end - m.start);
  return length_mm * 60 / static_cast<double>(m.feed_mm_min);
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  const clock::AxisLimits axes = clock::axisLimits(facts.job.machine);
  for (std::size_t i = 0; i < facts.programs.size() && i < facts.run.programs.size(); ++i) {
    const std::vector<Motion>& motions = facts.programs[i].program.motions;
    double total_s = 0, air_s = 0, stretch_s = 0, longest_s = 0;
    std::uint32_t stretch_start = 0, longest_start = 0, longest_end = 0, air_moves = 0;
    bool all_known = true, turns = false;
    const Tool* tool = nullptr;
    for (std::uint32_t m = 0; m < motions.size(); ++m) {
      const Motion& motion = motions[m];
      if ((motion.kind != MotionKind::feed && !isArc(motion)) || motion.feed_mm_min <= 0) continue;
      if (!tool || tool->number != motion.tool) tool = findTool(facts.job, motion.tool);
      if (!tool) {
        all_known = false;
        break;
      }
      turns = turns || motion.spindle != Spindle::off;
      const double own_s = secondsAtFeed(motion, axes);
      total_s += own_s;
      if (cutOf(facts, i, m).removed_mm3 > 0) {
        stretch_s = 0;
        continue;
      }
      ++air_moves;
      air_s += own_s;
      if (stretch_s == 0) stretch_start = m;
      stretch_s += own_s;
      if (stretch_s > longest_s) {
        longest_s = stretch_s;
        longest_start = stretch_start;
        longest_end = m;
      }
    }
    if (!all_known || total_s <= 0 || air_s <= share_allowed * total_s || (turns && air_s >= total_s))
      continue;  // all of it: cuts-nothing
    Finding f = placeFinding(facts, i, air_cut_rule, placeOf(motions[longest_start]));
    f.last_line = std::max(f.last_line, motions[longest_end].line);
    f.moves = air_moves;
    f.at = motions[longest_start].start;
    f.amount = 100 * air_s / total_s;
    f.unit.assign(1, '%');
    f.message = fixedText(*f.amount, 0) + " % of the feed time takes nothing from the stock: " +
                quantityText(facts.job, Quantity::time_s, air_s) + " of " +
                quantityText(facts.job, Quantity::time_s, total_s) + "; the longest stretch, from here, is " +
                quantityText(facts.job, Quantity::time_s, longest_s);
    f.help = "Check the zero and the stock's thickness; if they are right, start lower or shorten the way in and out.";
    findings.push_back(std::move(f));
  }
}

}  // namespace

const Rule air_cut_rule{"air-cut", Level::note, "Most of the feed time takes nothing from the stock.", page, check};

}  // namespace provecut
