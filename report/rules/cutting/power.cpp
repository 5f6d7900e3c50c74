#include <map>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace {

constexpr double efficiency = 0.8;  // motor to cutter 0.7 to 0.85; from memory
constexpr double rounding = 1e-4;

constexpr std::string_view page = R"(## What it finds

Feed moves that ask more power of the spindle than `[machine] spindle_power_w`, for a new sharp bit, at the highest speed that the
machine reaches and at the maxOf cross-section that the cutter meets along the move.

## Why it matters

The spindle slows down, the chips grow thicker, the bit breaks or the motor trips in the middle of the stock. A dull bit needs up
to twice as much.

## Example

With `spindle_power_w = 400`, a 1/2 in bit in a slot in hardwood, half an inch deep:

    S18000 M3
    G1 X200 F3300

asks for about 660 W at the motor.

## What to do

Take less depth or width, or feed slower. Give the spindle's real power as `spindle_power_w`. Without a `material` in `[stock]`
nothing is judged.

## What `amount` is

The power at the motor in W, the largest over the group.

## Source

P = u Q; u = K_tc + K_te / mean chip (the linear-edge model, in which thin chips cost more; Chinese Journal of Mechanical
Engineering 2021, table 5, for aluminium; our own estimates for wood and plastics, half up or down). Four fifths of the motor's
power reach the cutter: from memory, 0.7 to 0.85. Plunges: Machinery's Handbook, 31st ed., energy at ordinary chips (from
memory), our own estimates for wood.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  if (!machineKnown(facts) || facts.job.machine.spindle_power_w <= 0) return;
  const double has_w = facts.job.machine.spindle_power_w;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const std::vector<Motion>& motions = facts.programs[i].program.motions;
    std::map<int, std::vector<Occurrence>> by_tool;
    for (std::uint32_t m = 0; m < motions.size(); ++m) {
      const double motor_w = static_cast<double>(loadOf(facts, i, m).power_w) / efficiency;
      if (motor_w > has_w * (1 + rounding)) by_tool[motions[m].tool].push_back({m, motor_w, motions[m].start});
    }
    for (const auto& [number, heavy] : by_tool) {
      Finding f = groupFinding(facts, i, power_rule, heavy, Worst::largest, Quantity::power_w);
      f.unit = "W";
      f.subject = toolText(facts.job, number);
      const Compared power = comparedText(facts.job, Quantity::power_w, *f.amount, has_w);
      f.message = f.subject + " asks the spindle for " + (f.moves > 1 ? "up to " : "") + power.met + ", it has " +
                  power.allowed;
      f.help = "Take " + fixedText(100 * has_w / *f.amount, 0) +
               " % of this depth or feed, or give the spindle's real spindle_power_w.";
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace

const Rule power_rule{"power", Level::look, "A cut asks more power than the spindle has.", page, check};

}  // namespace provecut
