#include <algorithm>
#include <cmath>
#include <map>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "sim/clearance/tolerance.h"
#include "sim/clock/path_limits.h"

namespace provecut {

namespace {

constexpr double rounding = 1e-6;
constexpr double faster = 1.2;          // a cutting feed that is one of its own
constexpr double least_length_mm = 50;  // our own choices, no source

constexpr std::string_view page = R"(## What it finds

Level cuts of 50 mm or more together at no more than the tool's `plunge_feed`, in a program that cuts elsewhere at least 1.2 times
faster with the same tool.

## Why it matters

The F word after a plunge was left out: the pass crawls, the bit rubs and burns.

## Example

With `plunge_feed = 400`:

    G1 Z-3 F400
    G1 X180
    G1 Y80 F1200

## What to do

Put the cutting feed on the first line after the plunge.

## What `amount` is

The feed found in mm/min, the smallest over the group.

## Source

Our own choice of limits.
)";

struct ByTool {
  std::vector<Occurrence> slow;
  double slow_mm = 0, fastest = 0;
};

void check(const Facts& facts, std::vector<Finding>& findings) {
  const auto limited = [](const Tool& t) { return t.plunge_feed_mm_min.has_value(); };
  if (std::none_of(facts.job.tools.begin(), facts.job.tools.end(), limited)) return;
  const clock::AxisLimits axes = clock::axisLimits(facts.job.machine);
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const std::vector<Motion>& motions = facts.programs[i].program.motions;
    std::map<int, ByTool> by_tool;
    for (std::uint32_t m = 0; m < motions.size(); ++m) {
      const Motion& motion = motions[m];
      if (motion.kind != MotionKind::feed && !isArc(motion)) continue;
      if (motion.feed_mm_min <= 0 || std::fabs(motion.end.z - motion.start.z) > clearance::contact_tolerance_mm)
        continue;
      const Tool* tool = findTool(facts.job, motion.tool);
      if (!tool || !tool->plunge_feed_mm_min || !cutsMaterial(cutOf(facts, i, m))) continue;
      ByTool& t = by_tool[motion.tool];
      const double feed = motion.feed_mm_min;
      t.fastest = std::max(t.fastest, feed);
      if (feed > *tool->plunge_feed_mm_min * (1 + rounding)) continue;
      t.slow.push_back({m, feed, motion.start});
      t.slow_mm += clock::movePath(motion, axes, 0).length_mm;
    }
    for (const auto& [number, t] : by_tool) {
      const double plunge = *findTool(facts.job, number)->plunge_feed_mm_min;
      if (t.slow_mm < least_length_mm || t.fastest < faster * plunge) continue;
      Finding f = groupFinding(facts, i, cut_at_plunge_feed_rule, t.slow, Worst::smallest, Quantity::feed);
      f.unit = "mm/min";
      f.subject = toolText(facts.job, number);
      f.message = f.subject + " cuts " + quantityText(facts.job, Quantity::length, t.slow_mm) +
                  " at no more than its plunge feed of " + quantityText(facts.job, Quantity::feed, plunge) +
                  ", elsewhere at up to " + quantityText(facts.job, Quantity::feed, t.fastest);
      f.help = "Put the cutting feed of up to " + quantityText(facts.job, Quantity::feed, t.fastest) +
               " on the first line after the plunge.";
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace

const Rule cut_at_plunge_feed_rule{"cut-at-plunge-feed", Level::note, "Long cuts run at the plunge feed.", page, check};

}  // namespace provecut
