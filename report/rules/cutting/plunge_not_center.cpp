#include <algorithm>
#include <map>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace {

constexpr double steep_deg = 45;

constexpr std::string_view page = R"(## What it finds

A tool with `center_cutting = false` - every surfacing cutter, unless the job file says otherwise - that goes down into material
more steeply than 45 degrees.

## Why it matters

Such a tool has no edge near its middle. What stands there is not cut but pressed: it burns, lifts the tool or breaks it.

## Example

With a 25 mm surfacing cutter over the stock:

    G1 Z-1 F300

## What to do

Go down outside the stock, or along a ramp of 2 to 3 degrees. Set `center_cutting = true` if this tool cuts to its middle.

## What `amount` is

The maxOf height of material above the tip in mm, the largest over the group.

## Source

Common practice, no source: which bits must not plunge, and ramps of 2 to 3 degrees for them.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  const auto limited = [](const Tool& t) { return !t.center_cutting; };
  if (std::none_of(facts.job.tools.begin(), facts.job.tools.end(), limited)) return;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const std::vector<Motion>& motions = facts.programs[i].program.motions;
    std::map<int, std::vector<Occurrence>> by_tool;
    for (std::uint32_t m = 0; m < motions.size(); ++m) {
      if (descentDeg(motions[m]) <= steep_deg) continue;
      const Tool* tool = findTool(facts.job, motions[m].tool);
      const MoveCut cut = cutOf(facts, i, m);
      if (!tool || tool->center_cutting || !cutsMaterial(cut)) continue;
      by_tool[motions[m].tool].push_back({m, cut.axial_depth_mm, lowestTip(motions[m])});
    }
    for (const auto& [number, steep] : by_tool) {
      Finding f = groupFinding(facts, i, plunge_not_center_rule, steep, Worst::largest, Quantity::length);
      f.unit = "mm";
      f.subject = toolText(facts.job, number);
      f.message = f.subject + " does not cut at its centre and goes " + (f.moves > 1 ? "up to " : "") +
                  quantityText(facts.job, Quantity::length, *f.amount) + " down into the stock";
      f.help = "Go down outside the stock, or along a ramp of at most 3 degrees.";
      relateToJob(facts, f, findTool(facts.job, number)->place, f.subject + " is defined here");
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace

const Rule plunge_not_center_rule{"plunge-not-center", Level::stop, "A tool that does not cut at its centre plunges.",
                                  page, check};

}  // namespace provecut
