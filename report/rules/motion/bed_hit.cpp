#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "sim/clearance/tolerance.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

A move that takes the tip of the tool below the underside of the spoilboard, into the bed of the machine.

## Why it matters

The bit meets aluminium, steel or a bolt at wood-cutting speed. Most often Z zero, the stock's thickness or a unit is wrong.

## Example

Stock of 19 mm on an 18 mm spoilboard, zero on the stock's top:

    G1 Z-38 F300

The tip ends 1 mm below the spoilboard's underside at Z -37.

## What to do

Keep the program above the height that the finding names, or correct `zero`, `stock.size` or `spoilboard.thickness`.

## What `amount` is

The depth of the tip below the spoilboard's underside in mm, the largest over the group.

## Source

Geometry.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  const double thickness_mm = facts.job.spoilboard.thickness_mm;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ProgramFacts& program = facts.programs[i];
    const double underside = spoilboardZ(*program.setup) - thickness_mm;
    std::vector<Occurrence> below;
    for (std::uint32_t m = 0; m < program.program.motions.size(); ++m) {
      const Motion& motion = program.program.motions[m];
      if (!moves(motion)) continue;
      const WorkPoint tip = lowestTip(motion);
      if (underside - tip.z > clearance::contact_tolerance_mm) below.push_back({m, underside - tip.z, tip});
    }
    if (below.empty()) continue;
    Finding f = groupFinding(facts, i, bed_hit_rule, below, Worst::largest, Quantity::length);
    f.unit = "mm";
    f.message = std::string(f.moves > 1 ? "tip goes up to " : "tip goes ") +
                quantityText(facts.job, Quantity::length, *f.amount) +
                " below the spoilboard's underside, into the bed; the underside is at " + zText(facts.job, underside);
    f.help = "Keep this program at or above " +
             zAtLeastText(facts.job, spoilboardZ(*program.setup) - facts.job.spoilboard.allowed_cut_mm) +
             ", or correct the zero, the stock's thickness or the spoilboard's in the job file.";
    findings.push_back(std::move(f));
  }
}

}  // namespace

const Rule bed_hit_rule{"bed-hit", Level::stop, "The tip goes below the spoilboard's underside.", page, check};

}  // namespace provecut
