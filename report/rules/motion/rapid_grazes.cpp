#include <fmt/core.h>

#include <algorithm>
#include <limits>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/lift_advice.h"
#include "report/rules/shared/rapid_cut.h"

namespace provecut {

namespace rapid_grazes {

constexpr std::string_view page = R"(## What it finds

Rapids that brush what earlier cuts left: less than 0.25 mm deep and less than 0.5 mm² in section. A rapid that goes
steeply down into the stock, or meets an untouched face with half of its width or more, gets rapid-in-stock instead,
however little it takes.

## Why it matters

The machine gives way by that much, and the cut hardly shows it. But the tool runs level with the material, with nothing
to spare if zero is 0.1 mm off.

## Example

A ball nose finishes a hollow in rows and goes from one row to the next by rapid, at the depth of the rows:

    G1 X80 Z-3.02
    G0 Y12.5
    G1 X20

The rapid takes the tops off the ridges between them.

## What to do

Retract to the height in the finding between the rows, or make the link a feed move.

## What `amount` is

How deep the rapid cuts in mm, the largest of the group.

## Source

Geometry of the cut. The limits are our own estimate of what a light machine gives way.
)";

// Just above what it brushes, as high as the machine gives way, twice over.
void advise(const Facts& facts, std::size_t program, const std::vector<Occurrence>& grazing, Finding& f) {
  std::vector<std::uint32_t> moves;
  double z = -std::numeric_limits<double>::infinity();
  for (const Occurrence& o : grazing) {
    const Motion& m = facts.programs[program].program.motions[o.move];
    const double met_z = std::max(m.start.z, m.end.z) + double{cutOf(facts, program, o.move).axial_depth_mm};
    z = std::max(z, met_z + 2 * max_graze_depth_mm);
    moves.push_back(o.move);
  }
  const double top_z = stockTopZ(facts, *facts.programs[program].setup);
  double reach_mm = 0;
  for (const std::uint32_t m : moves)
    reach_mm = std::max(reach_mm, reachBelowTip(facts, facts.programs[program].program.motions[m].tool));
  // A tip above the stock is to be clear of it.
  if (z + reach_mm > top_z) z = std::max(z, top_z + facts.job.limits.clearance_mm);
  const std::optional<Lift> lift = liftOver(facts, program, moves, z);
  f.help = lift ? sentence(lift->text) : "Make it a feed move.";
  if (lift) f.ways.push_back(lift->changes);
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    std::vector<Occurrence> grazing;
    for (const RapidCut& cut : rapidCuts(facts, i)) {
      if (cut.graze)
        grazing.push_back({cut.move, cut.depth_mm, lowestTip(facts.programs[i].program.motions[cut.move])});
    }
    if (grazing.empty()) continue;
    Finding f = groupFinding(facts, i, rapid_grazes_rule, grazing, Worst::largest, Quantity::length);
    f.message = fmt::format("rapid brushes the stock, {}{} deep", upTo(f),
                            quantityText(facts.job, Quantity::length, *f.amount));
    advise(facts, i, grazing, f);
    findings.push_back(std::move(f));
  }
}

}  // namespace rapid_grazes

const Rule rapid_grazes_rule{"rapid-grazes", Level::note, "A rapid brushes what earlier cuts left.", rapid_grazes::page,
                             rapid_grazes::check};

}  // namespace provecut
