#include <fmt/core.h>

#include <algorithm>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/height_advice.h"
#include "sim/clearance/tolerance.h"

namespace provecut {

namespace bed_hit {

constexpr std::string_view page = R"(## What it finds

A move takes the tip right through the spoilboard and into the machine's bed.

## Why it matters

The bit meets aluminium, steel or a bolt at wood-cutting speed. Usually the Z zero, the stock's thickness or a unit is
wrong.

## Example

19 mm stock on an 18 mm spoilboard, zero on the stock's top:

    G1 Z-38 F300

The spoilboard's underside is at Z -37: the tip goes 1 mm into the bed.

## What to do

Keep the program above the height in the finding, or correct `zero`, `stock.size` or `spoilboard.thickness`.

## What `amount` is

The depth of the tip below the spoilboard's underside in mm, the largest of the group.

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
    f.message = fmt::format("cuts through the spoilboard and {}{} into the bed", upTo(f),
                            quantityText(facts.job, Quantity::length, *f.amount));
    const double lowest_z = spoilboardZ(*program.setup) - std::min(facts.job.spoilboard.allowed_cut_mm, thickness_mm);
    f.ways.push_back({{ChangeKind::lowest_z, lowest_z, {}, 0, -1, {}}});
    f.help = fmt::format(
        "Cut no deeper than {}. Or correct the job file: the zero, the stock's thickness, the spoilboard's thickness.",
        heightText(facts, i, lowest_z));
    findings.push_back(std::move(f));
  }
}

}  // namespace bed_hit

const Rule bed_hit_rule{"bed-hit", Level::stop, "The tip cuts through the spoilboard into the bed.", bed_hit::page,
                        bed_hit::check};

}  // namespace provecut
