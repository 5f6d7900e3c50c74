#include <fmt/core.h>

#include <cmath>

#include "report/rules/list.h"
#include "report/rules/shared/chip_advice.h"
#include "report/rules/shared/moves_by_tool.h"

namespace provecut {

namespace tool_overspeed {

constexpr std::string_view page = R"(## What it finds

A tool runs faster than its `max_rpm` on a cutting move.

## Why it matters

Big bits, and bits with brazed or screwed cutting edges, burst above the speed marked on them.

## Example

With `max_rpm = 12000`:

    M3 S18000

## What to do

Set S to the tool's maximum speed or less, and lower the feed to match.

## What `amount` is

The speed found in rpm, the largest of the group.

## Source

EN 847-1: the maximum speed is marked on the tool (from memory).
)";

std::optional<double> tooFast(const ToolMove& move) {
  const double rpm = move.motion.rpm;
  if (!feeds(move.motion) || move.motion.spindle == Spindle::off || rpm <= *move.tool.max_rpm) return std::nullopt;
  return rpm;
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  const auto limited = [](const Tool& t) { return t.max_rpm.has_value(); };
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    for (const auto& [number, fast] : movesByTool(facts, i, tooFast, limited)) {
      const double max_rpm = *findTool(facts.job, number)->max_rpm;
      Finding f = toolFinding(facts, i, tool_overspeed_rule, number, fast, Worst::largest, Quantity::speed_rpm);
      const Compared speed = comparedText(facts.job, Quantity::speed_rpm, *f.amount, max_rpm);
      f.amount_text = speed.actual;
      f.message = fmt::format("{} runs at {} (maximum {})", f.subject, speed.actual, speed.limit);
      if (minRpm(facts) > max_rpm) {
        f.help = fmt::format("Do not use this bit here: the spindle's minimum is {}.",
                             quantityText(facts.job, Quantity::speed_rpm, minRpm(facts)));
      } else if (const auto set = adviseSpeed(facts, {number}, std::floor(max_rpm), f)) {
        f.help = fmt::format("Before this tool cuts, {}.", *set);
      } else {
        f.help = "Lower the speed to this maximum before this tool cuts, and its feeds with it.";
      }
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace tool_overspeed

const Rule tool_overspeed_rule{"tool-overspeed", Level::stop, "A tool runs faster than its max_rpm.",
                               tool_overspeed::page, tool_overspeed::check};

}  // namespace provecut
