#include <algorithm>
#include <map>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

A tool that turns faster than its `max_rpm` on a feed move.

## Why it matters

Big bits and bits with brazed or screwed edges burst above the speed that is marked on them.

## Example

With `max_rpm = 12000`:

    M3 S18000

## What to do

Set S to the tool's highest speed or less, and lower the feed with it.

## What `amount` is

The speed found in rpm, the largest over the group.

## Source

EN 847-1 has the highest speed marked on the tool (from memory).
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  const auto limited = [](const Tool& t) { return t.max_rpm.has_value(); };
  if (std::none_of(facts.job.tools.begin(), facts.job.tools.end(), limited)) return;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const std::vector<Motion>& motions = facts.programs[i].program.motions;
    std::map<int, std::vector<Occurrence>> by_tool;
    for (std::uint32_t m = 0; m < motions.size(); ++m) {
      const Motion& motion = motions[m];
      if ((motion.kind != MotionKind::feed && !isArc(motion)) || motion.spindle == Spindle::off) continue;
      const Tool* tool = findTool(facts.job, motion.tool);
      if (tool && tool->max_rpm && motion.rpm > *tool->max_rpm)
        by_tool[motion.tool].push_back({m, motion.rpm, motion.start});
    }
    for (const auto& [number, fast] : by_tool) {
      const Tool& tool = *findTool(facts.job, number);
      Finding f = groupFinding(facts, i, tool_overspeed_rule, fast, Worst::largest, Quantity::speed_rpm);
      f.unit = "rpm";
      f.subject = toolText(facts.job, number);
      const Compared speed = comparedText(facts.job, Quantity::speed_rpm, *f.amount, *tool.max_rpm);
      f.message = f.subject + " turns at " + speed.met + ", " + speed.allowed + " at most";
      f.help = "Set S to " + fixedText(*tool.max_rpm, 0) + " or less before this tool cuts.";
      relateToJob(facts, f, tool.place, f.subject + " is defined here");
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace

const Rule tool_overspeed_rule{"tool-overspeed", Level::stop, "A tool turns faster than it may.", page, check};

}  // namespace provecut
