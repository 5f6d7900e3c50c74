#include <fmt/core.h>

#include <set>

#include "report/rules/list.h"
#include "report/rules/shared/grip_limits.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace shank_grip {

constexpr std::string_view page = R"(## What it finds

The collet holds less than four shank diameters of a tool's shank: its `overall_length` less its `stickout`. This is
checked only if the job file gives the `overall_length`.

## Why it matters

A shank held too short slips. An up-cut bit pulls itself out of the collet and cuts deeper and deeper, or whips and
breaks.

## Example

A 6 mm bit, 50 mm long, sticks out 35 mm. The collet holds 15 mm; it needs 24 mm.

## What to do

Seat the shank deeper, but not against the bottom of the collet. Then correct `stickout` and set Z zero again. Or use
a longer bit. Clean the collet and tighten it as its maker says.

## What `amount` is

How much of the shank the collet holds, in mm.

## Source

Common practice: at least four shank diameters. No check of a program can tell how tight the collet is.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  std::set<int> used;
  for (const ProgramFacts& p : facts.programs) {
    for (const Motion& m : p.program.motions) used.insert(m.tool);
  }
  for (const Tool& tool : facts.job.tools) {
    if (tool.overall_length_mm <= 0 || !used.contains(tool.number)) continue;
    const double held_mm = tool.overall_length_mm - tool.stickout_mm,
                 min_mm = min_grip_in_shanks * tool.shank_diameter_mm;
    if (held_mm >= min_mm - 1e-9) continue;
    Finding f = jobFinding(facts, shank_grip_rule, tool.place);
    f.subject = toolText(facts.job, tool.number);
    f.amount = held_mm;
    f.unit = "mm";
    const Compared text = comparedText(facts.job, Quantity::length, held_mm, min_mm);
    if (held_mm > 0) f.amount_text = text.actual;
    f.message = held_mm > 0 ? fmt::format("the collet holds only {} of {} (minimum {}); the bit may slip out",
                                          text.actual, f.subject, text.limit)
                            : fmt::format("{} is shorter than its stickout, so the collet holds nothing", f.subject);
    f.help = fmt::format(
        "Seat the shank at least {} deeper in the collet, correct `stickout` and set Z zero again. "
        "Or use a longer bit.",
        atLeastText(facts.job, Quantity::length, min_mm - held_mm));
    findings.push_back(std::move(f));
  }
}

}  // namespace shank_grip

const Rule shank_grip_rule{"shank-grip", Level::look, "The collet holds too little of a tool's shank.",
                           shank_grip::page, shank_grip::check};

}  // namespace provecut
