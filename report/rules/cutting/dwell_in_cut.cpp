#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

A dwell (G4) right after a move that cut, with the tip still below the top of the stock and the spindle turning. The dwells of drilling cycles
are left out: they are meant.

## Why it matters

A bit that turns without moving rubs. It burns the wood and itself, and the embers are drawn into the dust collector.

## Example

    G1 X80 F1200
    G4 P5

## What to do

Retract before the dwell, or leave it out.

## What `amount` is

The time in s, the largest over the group.

## Source

Common practice, no source.
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
    f.unit.assign(1, 's');
    f.message = "stands " + std::string(f.moves > 1 ? "up to " : "") +
                quantityText(facts.job, Quantity::time_s, *f.amount) + " in the cut with the spindle turning";
    f.help = "Retract to " + zAtLeastText(facts.job, stockTopZ(facts, *p.setup) + facts.job.limits.clearance_mm) +
             " before the dwell, or leave it out.";
    findings.push_back(std::move(f));
  }
}

}  // namespace

const Rule dwell_in_cut_rule{"dwell-in-cut", Level::note, "The bit turns on the spot in the wood.", page, check};

}  // namespace provecut
