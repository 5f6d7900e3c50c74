#include "report/base/wording.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

A cutter that runs over the place where a screw stood before, in the same setup or, after turning over, in a later one. Looked at
only where the job file gives the screw's `shaft_diameter`, and not where a screw stands again.

## Why it matters

The old hole shows in the finished face, and the edge chips at it. Much worse where something was left in it: a broken screw or a
forgotten brad meets the bit.

## Example

A screw at x 100 through the front of stock 420 wide, and on the back, turned over Y, a groove through x 320.

## What to do

See that the hole is empty. Move the screw to where neither side is cut (`provecut place` shows where), or accept the finding
where the hole goes away with the waste.

## What `amount` is

There is none; `moves` counts the moves that meet the hole.

## Source

Geometry.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (const HoleInPath& h : facts.run.holes_in_path) {
    const HoldDown& screw = facts.job.hold_downs[static_cast<std::size_t>(h.hold_down)];
    Finding f = groupFinding(facts, static_cast<std::size_t>(h.program), hole_in_path_rule, {{h.move, 0, h.at}},
                             Worst::largest, Quantity::length);
    f.amount.reset();
    f.moves = h.moves;
    f.subject = screw.name;
    const ProgramFacts& by = facts.programs[static_cast<std::size_t>(h.left_by)];
    f.message = "cuts over the hole that " + screw.name + " left in setup " + by.setup->name +
                "; metal left in it would meet the bit";
    f.help = "See that nothing is left in the hole, or move " + screw.name + " to where no later program cuts.";
    relateToJob(facts, f, screw.place, screw.name + " stood here up to " + by.entry->file);
    findings.push_back(std::move(f));
  }
}

}  // namespace

const Rule hole_in_path_rule{"hole-in-path", Level::note, "A cut runs over the hole that a screw left.", page, check};

}  // namespace provecut
