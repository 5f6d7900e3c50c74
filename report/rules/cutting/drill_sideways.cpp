#include <map>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace {

constexpr double steep_deg = 45;  // a drill that is led a little aside still bores

constexpr std::string_view page = R"(## What it finds

A drill that is fed sideways through material: a level feed move or an arc, or one less steep than 45 degrees.

## Why it matters

A drill cuts at its point only. Led sideways it rubs on its lands, bends and breaks, and throws what breaks off.

## Example

    T1 M6 (6 mm drill)
    G1 Z-6 F300
    G1 X140 F1000

## What to do

Use a bit that cuts with its sides, or look whether the right tool is in the job file.

## What `amount` is

The maxOf depth of material that such a move cuts in mm.

## Source

Common practice, no source.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const std::vector<Motion>& motions = facts.programs[i].program.motions;
    std::map<int, std::vector<Occurrence>> by_tool;
    for (std::uint32_t m = 0; m < motions.size(); ++m) {
      const Tool* tool = findTool(facts.job, motions[m].tool);
      if (!tool || tool->shape != ToolShape::drill || motions[m].kind == MotionKind::rapid) continue;
      const MoveCut cut = cutOf(facts, i, m);
      if (!goesSideways(motions[m]) || descentDeg(motions[m]) >= steep_deg || !cutsMaterial(cut)) continue;
      by_tool[motions[m].tool].push_back({m, static_cast<double>(cut.axial_depth_mm), lowestTip(motions[m])});
    }
    for (const auto& [number, sideways] : by_tool) {
      Finding f = groupFinding(facts, i, drill_sideways_rule, sideways, Worst::largest, Quantity::length);
      f.unit = "mm";
      f.subject = toolText(facts.job, number);
      f.message = f.subject + " is a drill and is fed sideways, " + (f.moves > 1 ? "up to " : "") +
                  quantityText(facts.job, Quantity::length, *f.amount) + " deep in the stock";
      f.help = "Use a bit that cuts with its sides, or look whether the job file has the right tool.";
      relateToJob(facts, f, findTool(facts.job, number)->place, f.subject + " is defined here");
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace

const Rule drill_sideways_rule{"drill-sideways", Level::look, "A drill is fed sideways through material.", page, check};

}  // namespace provecut
