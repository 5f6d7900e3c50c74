#include <algorithm>
#include <cmath>
#include <map>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace {

// The field of heights holds single-precision numbers.
constexpr double rounding_mm = 0.001;

constexpr std::string_view page = R"(## What it finds

A feed move or arc on which the material stands higher above the tip than the tool's `max_stepdown`, on the stock as it is at that
moment.

## Why it matters

Too deep a pass bends or breaks the bit, burns, and pulls the stock from what holds it. The depth of the last pass alone says
little: what matters is what an earlier pass left standing.

## Example

With `max_stepdown = 6` and stock that nothing has cut yet:

    G1 Z-9 F300
    G1 X80 F1200

Both moves meet 9 mm of material.

## What to do

Take the depth in as many passes as the finding names, or put the roughing program first. Where the tool may cut deeper, raise
its `max_stepdown`.

## What `amount` is

The maxOf height of material above the tip in mm, the largest over the group.

## Source

Geometry of the cut; `max_stepdown` is yours. Half to one diameter in hardwood is common practice, no source.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  const auto limited = [](const Tool& t) { return t.max_stepdown_mm.has_value(); };
  if (std::none_of(facts.job.tools.begin(), facts.job.tools.end(), limited)) return;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const std::vector<Motion>& motions = facts.programs[i].program.motions;
    std::map<int, std::vector<Occurrence>> by_tool;
    for (std::uint32_t m = 0; m < motions.size(); ++m) {
      const Motion& motion = motions[m];
      if (motion.kind != MotionKind::feed && !isArc(motion)) continue;
      const MoveCut cut = cutOf(facts, i, m);
      if (!cutsMaterial(cut)) continue;
      const Tool* tool = findTool(facts.job, motion.tool);
      if (!tool || !tool->max_stepdown_mm || cut.axial_depth_mm <= *tool->max_stepdown_mm + rounding_mm) continue;
      by_tool[motion.tool].push_back({m, cut.axial_depth_mm, lowestTip(motion)});
    }
    for (const auto& [number, deep] : by_tool) {
      const Tool& tool = *findTool(facts.job, number);
      Finding f = groupFinding(facts, i, pass_too_deep_rule, deep, Worst::largest, Quantity::length);
      f.unit = "mm";
      f.subject = toolText(facts.job, number);
      const Compared depth = comparedText(facts.job, Quantity::length, *f.amount, *tool.max_stepdown_mm);
      f.message = f.subject + " cuts " + (f.moves > 1 ? "up to " : "") + depth.met + " deep in one pass, " +
                  depth.allowed + " at most";
      const double passes = std::ceil((*f.amount - rounding_mm) / *tool.max_stepdown_mm);
      f.help = "Take this depth in " + fixedText(passes, 0) + " passes of " +
               quantityText(facts.job, Quantity::length, *f.amount / passes) + ".";
      relateToJob(facts, f, tool.place, f.subject + " is defined here");
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace

const Rule pass_too_deep_rule{"pass-too-deep", Level::look, "A pass is deeper than the tool's max_stepdown.", page,
                              check};

}  // namespace provecut
