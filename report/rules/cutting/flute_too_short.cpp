#include <fmt/core.h>

#include <map>

#include "report/rules/list.h"
#include "report/rules/shared/moves_by_tool.h"
#include "report/rules/shared/overhang.h"
#include "sim/clearance/tolerance.h"

namespace provecut {

namespace flute_too_short {

constexpr std::string_view page = R"(## What it finds

The tool goes so deep that material stands above its flutes and touches a shank as wide as the cutter or wider, or lies
in the way of a thinner neck. Up to half a millimetre of a shank just as wide as the cutter is shank-brushes' note.

## Why it matters

A shank does not cut. It rubs, burns the wall, pushes the part aside and may break the bit.

## Example

A 6 mm bit with 12 mm of flutes and a 6 mm shank cuts a slot in several passes, down to

    G1 Z-15

The upper 3 mm of the walls rub along the shank.

## What to do

Use a bit with longer flutes or with a neck thinner than the cutter, or cut less deep.

## What `amount` is

How far the material reaches above the flutes in mm, the largest of the group.

## Source

Geometry of the cut. The wall of a slot is looked for within one cell beside the cutter. The half millimetre is our own
choice.
)";

bool neckThinner(const Tool& tool) {
  return tool.shank_diameter_mm > 0 && tool.shank_diameter_mm < tool.diameter_mm - clearance::contact_tolerance_mm;
}

std::string advice(const Facts& facts, const Tool* tool, double above_mm) {
  const auto atLeast = [&](double mm) { return atLeastText(facts.job, Quantity::length, mm); };
  const std::string flutes = tool && tool->flute_length_mm > 0 ? fmt::format("Use a bit with at least {} of flutes",
                                                                             atLeast(tool->flute_length_mm + above_mm))
                                                               : "Use a bit with longer flutes";
  if (tool && neckThinner(*tool)) {
    return fmt::format("Clear what stands above its flutes with another bit first. Or {}.", "u" + flutes.substr(1));
  }
  return fmt::format("Cut at least {} less deep. Or {} or with a neck thinner than the cutter.", atLeast(above_mm),
                     "u" + flutes.substr(1));
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.run.programs.size(); ++i) {
    const std::vector<Motion>& motions = facts.programs[i].program.motions;
    std::map<int, std::vector<Occurrence>> by_tool;
    for (const BodyInStock& b : facts.run.programs[i].bodies_in_stock) {
      if (b.part == ToolPart::shank) by_tool[motions[b.move].tool].push_back({b.move, b.depth_mm, b.at});
    }
    for (const auto& [number, met] : by_tool) {
      Finding f = toolFinding(facts, i, flute_too_short_rule, number, met, Worst::largest, Quantity::length);
      const Tool* tool = findTool(facts.job, number);
      const bool neck = tool && neckThinner(*tool);
      if (tool && onlyBrushes(*tool, *f.amount)) continue;  // shank-brushes
      f.message = fmt::format("the {} of {} rubs: material stands {}{} above its flutes", neck ? "neck" : "shank",
                              f.subject, upTo(f), quantityText(facts.job, Quantity::length, *f.amount));
      f.help = advice(facts, tool, *f.amount);
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace flute_too_short

const Rule flute_too_short_rule{"flute-too-short", Level::stop, "Material stands above the flutes: the shank rubs.",
                                flute_too_short::page, flute_too_short::check};

}  // namespace provecut
