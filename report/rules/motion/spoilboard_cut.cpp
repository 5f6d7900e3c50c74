#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "sim/clearance/tolerance.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

A move that takes the tip of the tool deeper below the spoilboard's surface than `spoilboard.allowed_cut`.

## Why it matters

A little is wanted, so that the stock is cut through. Much more spoils the board, loads the bit below the stock, and is a sign
of a wrong zero or thickness. The surface is where the stock lies; with `lift` it is that far below the stock.

## Example

With stock of 19 mm, zero on its top and `allowed_cut = 0.3`:

    G1 Z-20 F300

The tip is 1 mm below the surface at Z -19.

## What to do

Raise the deepest Z to the height that the finding names, correct zero or thickness, or allow a deeper cut with `skim`.

## What `amount` is

The depth of the tip below the spoilboard's surface in mm, the largest over the group.

## Source

Geometry. A skim of 0.3 mm on a flat board is common practice, no source.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  const double allowed_cut_mm = facts.job.spoilboard.allowed_cut_mm;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ProgramFacts& program = facts.programs[i];
    const double surface = spoilboardZ(*program.setup);
    std::vector<Occurrence> deep;
    for (std::uint32_t m = 0; m < program.program.motions.size(); ++m) {
      const Motion& motion = program.program.motions[m];
      if (!moves(motion)) continue;
      const WorkPoint tip = lowestTip(motion);
      if (surface - tip.z > allowed_cut_mm + clearance::contact_tolerance_mm) deep.push_back({m, surface - tip.z, tip});
    }
    if (deep.empty()) continue;
    Finding f = groupFinding(facts, i, spoilboard_cut_rule, deep, Worst::largest, Quantity::length);
    f.unit = "mm";
    const Compared depth = comparedText(facts.job, Quantity::length, *f.amount, allowed_cut_mm);
    f.message = std::string(f.moves > 1 ? "tip goes up to " : "tip goes ") + depth.met + " into the spoilboard, " +
                depth.allowed + " wanted at most; its surface is at " + zText(facts.job, surface);
    f.help = "Raise the deepest cut to " + zAtLeastText(facts.job, surface - allowed_cut_mm) + ", or set skim to " +
             atLeastText(facts.job, Quantity::length, *f.amount) +
             " in the job file if the board may be cut that deep.";
    findings.push_back(std::move(f));
  }
}

}  // namespace

const Rule spoilboard_cut_rule{"spoilboard-cut", Level::look, "The cutter goes deeper into the spoilboard than wanted.",
                               page, check};

}  // namespace provecut
