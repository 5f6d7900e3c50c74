#include <map>

#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

The tool goes so deep that wood, plastic or metal stands higher than its flutes, and its shank, as wide as the cutter or wider,
touches it.

## Why it matters

A shank does not cut: it rubs, burns the wall, pushes the part aside and may break the bit.

## Example

A 6 mm bit with 12 mm of flutes and a 6 mm shank, in a slot that is cut to

    G1 Z-15

in several passes: the upper 3 mm of the walls rub along the shank.

## What to do

Use a bit with longer flutes or with a neck thinner than the cutter, or cut less deep.

## What `amount` is

How far the material reaches above the flutes in mm, the largest over the group.

## Source

Geometry of the cut; the wall of a slot is looked for within one cell of the raster beside the cutter.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.run.programs.size(); ++i) {
    const std::vector<Motion>& motions = facts.programs[i].program.motions;
    std::map<int, std::vector<Occurrence>> by_tool;
    for (const BodyInStock& b : facts.run.programs[i].bodies_in_stock) {
      if (b.part == ToolPart::shank) by_tool[motions[b.move].tool].push_back({b.move, b.depth_mm, b.at});
    }
    for (const auto& [number, met] : by_tool) {
      Finding f = groupFinding(facts, i, flute_too_short_rule, met, Worst::largest, Quantity::length);
      f.unit = "mm";
      f.subject = toolText(facts.job, number);
      f.message = "material stands up to " + quantityText(facts.job, Quantity::length, *f.amount) +
                  " above the flutes of " + f.subject + ": its shank rubs";
      f.help = "Cut less deep with it, by at least " + atLeastText(facts.job, Quantity::length, *f.amount) +
               ", or use a bit with flutes that much longer, or with a neck thinner than the cutter.";
      if (const Tool* tool = findTool(facts.job, number))
        relateToJob(facts, f, tool->place, f.subject + " is defined here");
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace

const Rule flute_too_short_rule{"flute-too-short", Level::stop, "Material stands above the flutes: the shank rubs.",
                                page, check};

}  // namespace provecut
