#include <fmt/core.h>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/chip_advice.h"
#include "report/rules/shared/moves_by_tool.h"

namespace provecut {

namespace spindle_range {

constexpr std::string_view page = R"(## What it finds

A cutting move with a spindle speed below or above `machine.spindle_rpm`.

## Why it matters

The spindle runs at another speed than programmed, or not at all. Every chip is thicker or thinner than planned.

## Example

With `spindle_rpm = [8000, 24000]`:

    M3 S3000

## What to do

Choose a speed within the range and a feed to match. For a router with a dial, set `spindle_rpm` to what the dial
gives.

## What `amount` is

The speed found in rpm, the one farthest outside the range.

## Source

You set `spindle_rpm`, or the machine profile does (common practice; no published source).
)";

enum class Side { slow, fast };

void checkSide(const Facts& facts, Side side, std::vector<Finding>& findings) {
  const bool fast = side == Side::fast;
  const double limit = fast ? facts.job.machine.spindle_rpm_max : facts.job.machine.spindle_rpm_min;
  const Judge judge = [&](const ToolMove& move) -> std::optional<double> {
    const double rpm = move.motion.rpm;
    // A speed of 0 is spindle-off's.
    if (!feeds(move.motion) || move.motion.spindle == Spindle::off || rpm <= 0) return {};
    if (fast ? rpm <= limit : rpm >= limit) return {};
    return rpm;
  };
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    for (const auto& [number, outside] : movesByTool(facts, i, judge)) {
      Finding f = toolFinding(facts, i, spindle_range_rule, number, outside, fast ? Worst::largest : Worst::smallest,
                              Quantity::speed_rpm);
      const Compared speed = comparedText(facts.job, Quantity::speed_rpm, *f.amount, limit);
      f.amount_text = speed.actual;
      f.message =
          fmt::format("{} runs at {} ({} {})", f.subject, speed.actual, fast ? "maximum" : "minimum", speed.limit);
      const Tool& tool = *findTool(facts.job, number);
      if (maxRpm(facts, tool) < facts.job.machine.spindle_rpm_min) {
        f.help = fmt::format("Not possible with this bit (maximum {}).",
                             quantityText(facts.job, Quantity::speed_rpm, *tool.max_rpm));
      } else {
        const double rpm = fast ? maxRpm(facts, tool) : limit;
        f.help = fmt::format("Set S{:.0f} or {}, and a feed to match.", rpm, fast ? "less" : "more");
      }
      findings.push_back(std::move(f));
    }
  }
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  if (!machineKnown(facts)) return;
  checkSide(facts, Side::slow, findings);
  checkSide(facts, Side::fast, findings);
}

}  // namespace spindle_range

const Rule spindle_range_rule{"spindle-range", Level::look, "The spindle speed is outside the machine's range.",
                              spindle_range::page, spindle_range::check};

}  // namespace provecut
