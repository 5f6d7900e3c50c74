#include <fmt/core.h>

#include <map>

#include "report/rules/list.h"
#include "report/rules/shared/height_advice.h"
#include "report/rules/shared/lift_advice.h"
#include "report/rules/shared/moves_by_tool.h"
#include "report/rules/shared/overhang.h"
#include "report/rules/shared/stickout.h"

namespace provecut {

namespace shank_brushes {

constexpr std::string_view page = R"(## What it finds

Material stands up to 0.5 mm above the flutes of a tool whose shank is just as wide as its cutter. If there is more, or
the shank is wider, you get flute-too-short instead.

## Why it matters

The end of the flutes brushes the wall. It may leave a shiny or burnt line there.

## Example

A 6 mm bit with 12 mm of flutes and a 6 mm shank cuts along a wall down to

    G1 Z-12.3

## What to do

Cut a little less deep, or use a bit with longer flutes.

## What `amount` is

How far the material reaches above the flutes in mm, the largest of the group.

## Source

Geometry of the cut. The 0.5 mm are our own choice.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.run.programs.size(); ++i) {
    const std::vector<Motion>& motions = facts.programs[i].program.motions;
    std::map<int, std::vector<Occurrence>> by_tool;
    for (const BodyInStock& b : facts.run.programs[i].bodies_in_stock) {
      // Straight up it rubs where it has cut, which is told, or where another bit has: rapid-in-stock's.
      const Motion& m = motions[b.move];
      const bool lift = m.kind == MotionKind::rapid && !goesSideways(m);
      if (b.part == ToolPart::shank && !lift) by_tool[m.tool].push_back({b.move, b.depth_mm, b.at});
    }
    for (auto& [number, met] : by_tool) {
      takeMovesFromLowChange(facts, i, met);  // tool-change-low's
      if (met.empty()) continue;
      const Tool* tool = findTool(facts.job, number);
      if (!tool || !onlyBrushes(*tool, worstOf(met, Worst::largest).amount)) continue;
      Finding f = toolFinding(facts, i, shank_brushes_rule, number, met, Worst::largest, Quantity::length);
      f.message = fmt::format("the shank of {} brushes the wall: material stands {}{} above its flutes", f.subject,
                              upTo(f), f.amount_text);
      const std::optional<double> z = shallowerZ(facts, i, met);
      if (z) {
        f.help =
            fmt::format("Cut no deeper than {} with it, or use a bit with longer flutes.", heightText(facts, i, *z));
        f.ways.push_back({{ChangeKind::lowest_z, *z, {}, number, -1, {}}});
      } else {
        f.help = "Use a bit with longer flutes.";
      }
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace shank_brushes

const Rule shank_brushes_rule{"shank-brushes", Level::note, "A shank as wide as its cutter brushes the wall.",
                              shank_brushes::page, shank_brushes::check};

}  // namespace provecut
