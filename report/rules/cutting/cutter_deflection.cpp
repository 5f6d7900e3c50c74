#include <algorithm>
#include <map>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace {

constexpr double rounding = 1e-4;

constexpr std::string_view page = R"(## What it finds

Feed moves whose force bends the cutter sideways by more than `[limits] max_deflection` (0.1 mm unless the job says otherwise), at
the maxOf cross-section that it meets along the move. The cutter is a bar held at the collet nut's face: its flutes, then its
shank, as long as the tool's `flute_length` and `stickout` say.

## Why it matters

A bent cutter leaves slots too wide, walls that lean and corners that do not fit; bent a little more, it breaks.

## Example

A 3 mm bit with two flutes that sticks out 40 mm, 30 of them flutes, in a slot in hardwood 6 mm deep:

    S18000 M3
    G1 X80 F2500

bends by about 0.25 mm.

## What to do

Push the bit up into the collet as far as the depth of the job allows, take less depth or width, or feed slower. For a job in
which it does not matter, raise `max_deflection`.

## What `amount` is

How far the middle of the cut bends the cutter in mm, the largest over the group.

## Source

F L^3 / (3 E I) in steps; the fluted part counts with 0.8 of its diameter (from memory). E: solid carbide 600 GPa, steel 210 GPa
(from memory); surfacing bits, form tools and drills count as steel. Force on a tooth: the linear-edge model, with our own
estimates for wood and plastics. The limit of 0.1 mm is our own estimate. The machine itself bends too, which is not counted.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  if (!machineKnown(facts)) return;
  const double most = facts.job.limits.max_deflection_mm;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const std::vector<Motion>& motions = facts.programs[i].program.motions;
    std::map<int, std::vector<Occurrence>> by_tool;
    for (std::uint32_t m = 0; m < motions.size(); ++m) {
      const double bends = static_cast<double>(loadOf(facts, i, m).deflection_mm);
      if (bends > most * (1 + rounding)) by_tool[motions[m].tool].push_back({m, bends, motions[m].start});
    }
    for (const auto& [number, bent] : by_tool) {
      const Tool* tool = findTool(facts.job, number);
      if (!tool) continue;
      Finding f = groupFinding(facts, i, cutter_deflection_rule, bent, Worst::largest, Quantity::fine_length);
      f.unit = "mm";
      f.subject = toolText(facts.job, number);
      const auto worst = std::max_element(bent.begin(), bent.end(),
                                          [](const Occurrence& a, const Occurrence& b) { return a.amount < b.amount; });
      const Compared bend = comparedText(facts.job, Quantity::fine_length, *f.amount, most);
      f.message =
          f.subject + " is bent " + (f.moves > 1 ? "up to " : "") + bend.met + " by " +
          quantityText(facts.job, Quantity::force_n, static_cast<double>(loadOf(facts, i, worst->move).force_n)) +
          ", sticking out " + quantityText(facts.job, Quantity::length, tool->stickout_mm) + "; " + bend.allowed +
          " at most";
      f.help = "Push it up into the collet, or take " + fixedText(100 * most / *f.amount, 0) + " % of this depth.";
      relateToJob(facts, f, tool->place, f.subject + " is defined here");
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace

const Rule cutter_deflection_rule{"cutter-deflection", Level::look, "A cut bends its cutter.", page, check};

}  // namespace provecut
