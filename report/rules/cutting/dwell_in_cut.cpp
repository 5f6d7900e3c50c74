#include <fmt/core.h>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/height_advice.h"

namespace provecut {

namespace dwell_in_cut {

constexpr std::string_view page = R"(## What it finds

A dwell (G4) right after a cutting move, with the tip still in the stock and the spindle on. The dwells of drilling
cycles are left out: they are meant.

## Why it matters

A bit that spins in one place rubs. It burns the wood and itself, and the dust collector sucks in the embers.

## Example

    G1 X80 F1200
    G4 P5

## What to do

Delete the dwell, or retract before it and plunge again after it.

## What `amount` is

The time in s, the largest of the group.

## Source

Common practice; no published source.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ProgramFacts& p = facts.programs[i];
    const std::vector<Motion>& motions = p.program.motions;
    std::vector<Occurrence> dwells;
    for (std::uint32_t m = 1; m < motions.size(); ++m) {
      const Motion& motion = motions[m];
      if (motion.kind != MotionKind::dwell || motion.dwell_s <= 0 || motion.spindle == Spindle::off) continue;
      if ((motion.flags & motion_in_cycle) || !cutsMaterial(cutOf(facts, i, m - 1))) continue;
      const bool in_the_stock = motion.start.z < stockTopZ(facts, *p.setup) && overStock(facts, *p.setup, motion.start);
      if (in_the_stock) dwells.push_back({m, motion.dwell_s, motion.start});
    }
    if (dwells.empty()) continue;
    Finding f = groupFinding(facts, i, dwell_in_cut_rule, dwells, Worst::largest, Quantity::time_s);
    f.message = fmt::format("the bit spins in the cut for {}{} without moving", upTo(f),
                            quantityText(facts.job, Quantity::time_s, *f.amount));
    f.help = "Delete the dwell, or retract before it and plunge again after it.";
    findings.push_back(std::move(f));
  }
}

}  // namespace dwell_in_cut

const Rule dwell_in_cut_rule{"dwell-in-cut", Level::note, "The bit dwells in the cut.", dwell_in_cut::page,
                             dwell_in_cut::check};

}  // namespace provecut
