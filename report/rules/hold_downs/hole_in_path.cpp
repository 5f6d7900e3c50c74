#include <fmt/core.h>

#include "report/base/wording.h"
#include "report/facts/setup_words.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace hole_in_path {

constexpr std::string_view page = R"(## What it finds

A cutter runs over the hole of a screw that was removed, in the same setup or, after the flip, in a later one. This is
checked only for screws with a `shaft_diameter`, and not where a screw is fitted again.

## Why it matters

The old hole shows in the finished face, and the edge chips there. It is much worse if metal is left in it: the bit
meets a broken screw or a forgotten brad.

## Example

A screw at x 100 through the front of 420 mm wide stock. On the back, flipped left to right, a groove runs through x
320.

## What to do

Check that the hole is empty. Move the screw to where neither side is cut (`provecut place` shows where). If the hole
goes away with the waste, accept the finding.

## What `amount` is

There is none. `moves` counts the moves that meet the hole.

## Source

Geometry.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (const HoleInPath& h : facts.run.holes_in_path) {
    const HoldDown& screw = facts.job.hold_downs[h.hold_down];
    Finding f = groupFinding(facts, h.program, hole_in_path_rule, {{h.move, 0, h.at}});
    f.moves = h.moves;
    f.subject = screw.name;
    const ProgramFacts& by = facts.programs[h.left_by];
    f.message = fmt::format("cuts over the hole that {} left in {}; the bit would hit any metal left in it", screw.name,
                            setupText(*by.setup));
    f.help = fmt::format("Check that the hole is empty, or move {} to where no later program cuts.", screw.name);
    relateToJob(facts, f, screw.place, fmt::format("{} was here until {}", screw.name, by.entry->file));
    findings.push_back(std::move(f));
  }
}

}  // namespace hole_in_path

const Rule hole_in_path_rule{"hole-in-path", Level::note, "A cut runs over an old screw hole.", hole_in_path::page,
                             hole_in_path::check};

}  // namespace provecut
