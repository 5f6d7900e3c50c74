#include <set>

#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

A tool that a program uses with less than four shank diameters of its shank above the collet nut's face: its `overall_length` less
its `stickout`. Looked at only where the job file gives the `overall_length`.

## Why it matters

A shank held too short slips: an up-cut bit pulls itself out of the collet and cuts ever deeper, or whips and breaks.

## Example

A 6 mm bit of 50 mm, 35 mm of it out of the collet: 15 mm are held, 24 mm wanted.

## What to do

Push the shank farther in, though not down to the bottom of the collet's bore, or take a longer bit. Clean the collet, tighten it as
its maker says.

## What `amount` is

How much of the shank is held, in mm.

## Source

Common practice: at least four shank diameters. How tight the collet is, no look at a program can tell.
)";

constexpr double grip_in_shanks = 4;

void check(const Facts& facts, std::vector<Finding>& findings) {
  std::set<int> used;
  for (const ProgramFacts& p : facts.programs) {
    for (const Motion& m : p.program.motions) used.insert(m.tool);
  }
  for (const Tool& tool : facts.job.tools) {
    if (tool.overall_length_mm <= 0 || !used.contains(tool.number)) continue;
    const double held_mm = tool.overall_length_mm - tool.stickout_mm,
                 wanted_mm = grip_in_shanks * tool.shank_diameter_mm;
    if (held_mm >= wanted_mm - 1e-9) continue;
    Finding f = jobFinding(facts, shank_grip_rule, tool.place);
    f.subject = toolText(facts.job, tool.number);
    f.amount = held_mm;
    f.unit = "mm";
    const Compared text = comparedText(facts.job, Quantity::length, held_mm, wanted_mm);
    f.message = f.subject +
                (held_mm > 0 ? " has " + text.met + " of its shank in the collet, "
                             : " is shorter than its stickout: nothing is held, ") +
                text.allowed + " wanted: it may creep out";
    f.help = "Push it " + atLeastText(facts.job, Quantity::length, wanted_mm - held_mm) +
             " farther in, or take a longer bit.";
    findings.push_back(std::move(f));
  }
}

}  // namespace

const Rule shank_grip_rule{"shank-grip", Level::look, "The collet holds too little of a tool's shank.", page, check};

}  // namespace provecut
