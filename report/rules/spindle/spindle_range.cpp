#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/chip_advice.h"
#include "report/rules/shared/moves_by_tool.h"

namespace provecut {

namespace spindle_range {

constexpr std::string_view page = R"(## What it finds

A cutting move with a spindle speed below or above `machine.spindle_rpm`. Several tools of a program beyond the same
limit are one finding. If you dial the speed (`speed = "by-hand"`), S sets nothing, and this is only a note. So it is
where the job file gives neither a profile nor `spindle_rpm`: then the range is assumed, 8,000 to 24,000 rpm.

## Why it matters

The spindle runs at another speed than programmed, or not at all. Every chip is thicker or thinner than planned.

## Example

With `spindle_rpm = [8000, 24000]`:

    M3 S3000

## What to do

Choose a speed within the range and a feed to match. For a router with a dial, set `spindle_rpm` to what the dial
gives, and `rpm` of each tool to what you dial.

## What `amount` is

The speed found in rpm, the one farthest outside the range.

## Source

You set `spindle_rpm`, or the machine profile does (common practice; no published source).
)";

enum class Side { slow, fast };

// The S that nobody can dial is no fault, but what is worked out from it is wrong.
void wordDialled(const Facts& facts, Finding& f) {
  if (!facts.job.machine.dialled()) return;
  f.level = Level::note;
  f.help =
      "Put the speed that you dial in the job file: `rpm` of each [[tool]]. Chip loads are worked out from S until "
      "then.";
  f.ways.clear();
}

std::string speedHelp(const Facts& facts, const std::vector<int>& tools, double rpm, Finding& f) {
  const std::optional<std::string> set = adviseSpeed(facts, tools, rpm, f);
  return set ? sentence(*set) : "Choose a speed within the range, and feeds to match.";
}

// Without a word on the machine its range is our assumption.
void wordAssumed(const Facts& facts, Finding& f) {
  if (facts.job.machine.spindle_rpm_given) return;
  f.level = Level::note;
  f.help =
      "Set `spindle_rpm` under [machine] to what your spindle does; this range is assumed. If it is right: " + f.help;
}

// One limit of the machine, and several tools of a program beyond it.
Finding together(const Facts& facts, std::size_t program, bool fast,
                 const std::map<int, std::vector<Occurrence>>& by_tool) {
  const Worst worst = fast ? Worst::largest : Worst::smallest;
  const double limit = fast ? facts.job.machine.spindle_rpm_max : facts.job.machine.spindle_rpm_min;
  std::vector<Occurrence> all;
  std::vector<std::string> tools;
  bool possible = true;
  double rpm = limit;
  for (const auto& [number, outside] : by_tool) {
    all.insert(all.end(), outside.begin(), outside.end());
    tools.push_back(fmt::format("{} ({})", toolText(facts.job, number),
                                quantityText(facts.job, Quantity::speed_rpm, worstOf(outside, worst).amount)));
    const double max_rpm = maxRpm(facts, *findTool(facts.job, number));
    possible = possible && max_rpm >= facts.job.machine.spindle_rpm_min;
    if (fast) rpm = std::min(rpm, max_rpm);
  }
  Finding f = groupFinding(facts, program, spindle_range_rule, std::move(all), worst, Quantity::speed_rpm);
  f.message =
      fmt::format("{} tools run {} the spindle's {} of {}: {}", by_tool.size(), fast ? "above" : "below",
                  fast ? "maximum" : "minimum", quantityText(facts.job, Quantity::speed_rpm, limit), listText(tools));
  rpm = fast ? std::floor(rpm) : std::ceil(rpm);
  std::vector<int> numbers;
  for (const auto& [number, outside] : by_tool) numbers.push_back(number);
  f.help = possible ? speedHelp(facts, numbers, rpm, f) + " Or set the job's `spindle_rpm` to what this machine does."
                    : "Not possible with all of these bits on this machine: some may not turn that fast.";
  wordAssumed(facts, f);
  wordDialled(facts, f);
  return f;
}

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
    const auto by_tool = movesByTool(facts, i, judge);
    if (by_tool.size() > 1) {
      findings.push_back(together(facts, i, fast, by_tool));
      continue;
    }
    for (const auto& [number, outside] : by_tool) {
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
        const double rpm = fast ? std::floor(maxRpm(facts, tool)) : std::ceil(limit);
        f.help = speedHelp(facts, {number}, rpm, f);
      }
      wordAssumed(facts, f);
      wordDialled(facts, f);
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
