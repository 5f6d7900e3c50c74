#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace {

// Steep walls of a relief are followed downwards at full feed, and rightly; a plunge goes all but straight down. Our
// own choice, no source.
constexpr double straight_down_deg = 84;
constexpr double rounding = 1e-6;  // feeds are kept in single precision

constexpr std::string_view page = R"(## What it finds

A feed move all but straight down (84 degrees or more) into material, faster than the tool's `plunge_feed`.

## Why it matters

Going down, a bit cuts with its weakest edges and clears no chips: at the cutting feed it burns, breaks, or is pulled out of the
collet. Often the F word of the cut stands one line too early.

## Example

With `plunge_feed = 800`:

    G1 Z-3 F1800
    G1 X80

## What to do

Give the plunge its own F word, and the cut after it another.

## What `amount` is

The rate downwards in mm/min, the largest over the group.

## Source

`plunge_feed` is yours. A quarter to half of the cutting feed in wood is common practice, no source.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  const auto limited = [](const Tool& t) { return t.plunge_feed_mm_min.has_value(); };
  if (std::none_of(facts.job.tools.begin(), facts.job.tools.end(), limited)) return;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const std::vector<Motion>& motions = facts.programs[i].program.motions;
    std::map<int, std::vector<Occurrence>> by_tool;
    for (std::uint32_t m = 0; m < motions.size(); ++m) {
      const Motion& motion = motions[m];
      if (motion.kind != MotionKind::feed && !isArc(motion)) continue;
      const double descent = descentDeg(motion);
      if (descent < straight_down_deg) continue;
      const Tool* tool = findTool(facts.job, motion.tool);
      if (!tool || !tool->plunge_feed_mm_min || !cutsMaterial(cutOf(facts, i, m))) continue;
      const double down = static_cast<double>(motion.feed_mm_min) * std::sin(descent * std::numbers::pi / 180);
      if (down > *tool->plunge_feed_mm_min * (1 + rounding))
        by_tool[motion.tool].push_back({m, down, lowestTip(motion)});
    }
    for (const auto& [number, fast] : by_tool) {
      const Tool& tool = *findTool(facts.job, number);
      Finding f = groupFinding(facts, i, plunge_fast_rule, fast, Worst::largest, Quantity::feed);
      f.unit = "mm/min";
      f.subject = toolText(facts.job, number);
      const Compared feed = comparedText(facts.job, Quantity::feed, *f.amount, *tool.plunge_feed_mm_min);
      f.message = f.subject + " plunges at " + feed.met + ", " + feed.allowed + " at most";
      f.help = "Give the plunge an F word of " + atMostText(facts.job, Quantity::feed, *tool.plunge_feed_mm_min) +
               " or less, and the cut after it its own.";
      relateToJob(facts, f, tool.place, f.subject + " is defined here");
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace

const Rule plunge_fast_rule{"plunge-fast", Level::look, "A plunge is faster than the tool's plunge_feed.", page, check};

}  // namespace provecut
