#include <map>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace {

// Less than this is what two passes along one wall differ by, or a groove that rises a little on its way.
constexpr double least_mm = 0.02;

constexpr std::string_view page = R"(## What it finds

A bit that is wider below than above - dovetail, T-slot, keyhole, a disc on a thin neck - and that is drawn up where material
hangs over its wider part, or is lowered through what hangs over a hollow. It counts for any bit whose shank is thinner than its
cutting part, where material reaches above its flutes.

## Why it matters

Such a bit must leave the material the way it came: a dovetail or T-slot bit by the side, a keyhole bit by its own entry hole.
Lifted anywhere else it tears the lips off the slot, pulls the stock up or breaks at its neck.

## Example

A keyhole bit, in by the hole at X40, lifted at the far end of the slot:

    G1 Z-10
    G1 X55
    G0 Z5

## What to do

Go back to the entry hole, or out by the side, before going up. If the way in is a hole that an earlier program made, put that
program first.

## What `amount` is

The height of the material that the bit breaks through in mm, the largest over the group.

## Source

Common practice, no source: dovetail and T-slot bits go in and out by the side, keyhole bits by their entry hole. The height comes
from the geometry of the cut, two hundredths of a millimetre at the walls left out.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const std::vector<Motion>& motions = facts.programs[i].program.motions;
    std::map<std::pair<int, bool>, std::vector<Occurrence>> found;  // by tool and whether it goes up
    for (std::uint32_t m = 0; m < motions.size(); ++m) {
      const double broken = static_cast<double>(cutOf(facts, i, m).broken_mm);
      if (broken <= least_mm) continue;
      const bool up = motions[m].end.z > motions[m].start.z;
      found[{motions[m].tool, up}].push_back({m, broken, lowestTip(motions[m])});
    }
    for (const auto& [key, met] : found) {
      const auto& [number, up] = key;
      Finding f = groupFinding(facts, i, undercut_lift_rule, met, Worst::largest, Quantity::length);
      f.unit = "mm";
      f.subject = toolText(facts.job, number);
      const std::string height = (f.moves > 1 ? "up to " : "") + quantityText(facts.job, Quantity::length, *f.amount);
      if (up) {
        f.message = f.subject + " is lifted through " + height + " of material that hangs over its wider part";
        f.help = "Go back the way the bit came in - to its entry hole, or out by the side - before going up.";
      } else {
        f.message = f.subject + " is lowered through " + height + " of material that hangs over a hollow";
        f.help = "Go in by the side or by the entry hole.";
      }
      if (const Tool* tool = findTool(facts.job, number))
        relateToJob(facts, f, tool->place, f.subject + " is defined here");
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace

const Rule undercut_lift_rule{"undercut-lift", Level::stop,
                              "A bit wider below than above is lifted through material over it.", page, check};

}  // namespace provecut
