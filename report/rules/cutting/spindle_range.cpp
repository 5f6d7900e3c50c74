#include <map>
#include <utility>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

A feed move with the spindle at a speed below or above `machine.spindle_rpm`.

## Why it matters

The spindle then runs at another speed than the program counts on, or not at all: every chip is thicker or thinner than meant.

## Example

With `spindle_rpm = [8000, 24000]`:

    M3 S3000

## What to do

Choose a speed in the range and a feed that goes with it. On a router with a dial, set `spindle_rpm` to what the dial gives.

## What `amount` is

The speed found in rpm, the one furthest outside.

## Source

`spindle_rpm` is yours or the machine profile's (common practice, no source).
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  if (!machineKnown(facts)) return;
  const double low = facts.job.machine.spindle_rpm_min, high = facts.job.machine.spindle_rpm_max;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const std::vector<Motion>& motions = facts.programs[i].program.motions;
    std::map<std::pair<int, bool>, std::vector<Occurrence>> by_tool_and_side;  // true: too fast
    for (std::uint32_t m = 0; m < motions.size(); ++m) {
      const Motion& motion = motions[m];
      const bool feeds = motion.kind == MotionKind::feed || isArc(motion);
      const double rpm = motion.rpm;
      // A speed of 0 is spindle-off's.
      if (!feeds || motion.spindle == Spindle::off || rpm <= 0 || (rpm >= low && rpm <= high)) continue;
      by_tool_and_side[{motion.tool, rpm > high}].push_back({m, rpm, motion.start});
    }
    for (const auto& [key, outside] : by_tool_and_side) {
      const bool fast = key.second;
      const double limit = fast ? high : low;
      Finding f = groupFinding(facts, i, spindle_range_rule, outside, fast ? Worst::largest : Worst::smallest,
                               Quantity::speed_rpm);
      f.unit = "rpm";
      f.subject = toolText(facts.job, key.first);
      const Compared speed = comparedText(facts.job, Quantity::speed_rpm, *f.amount, limit);
      f.message = f.subject + " runs at " + speed.met + "; this machine's " + (fast ? "fastest is " : "slowest is ") +
                  speed.allowed;
      f.help = "Set S to " + fixedText(limit, 0) + (fast ? " or less" : " or more") + ", and the feed to go with it.";
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace

const Rule spindle_range_rule{"spindle-range", Level::look, "The spindle's speed is outside the machine's range.", page,
                              check};

}  // namespace provecut
