#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

The stock also goes onto the pins of a setup when it is turned half round, or, where it is square, a quarter.

## Why it matters

Put down the wrong way round it looks right, and everything of this side is cut in the wrong place.

## Example

Two pins of one diameter on the middle line, as far from the left end as from the right.

## What to do

Put both pins off the middle line, take two diameters, add a third pin, or draw an arrow on the stock and accept this finding with
that as its reason.

## What `amount` is

There is none.

## Source

Geometry. A shift of up to 5 mm counts as not seen; that is our estimate.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (const PinsElsewhere& p : facts.run.pins_either_way) {
    const ProgramFacts& program = facts.programs[static_cast<std::size_t>(p.program)];
    Finding f = jobFinding(facts, pins_either_way_rule, program.setup->place);
    f.setup = program.setup->name;
    f.message = "the stock goes onto the pins of setup " + f.setup +
                (p.turned_deg == 180 ? " turned half round" : " turned a quarter") + " too";
    f.help = "Put the pins off the middle line, take two diameters or a third pin, or mark the stock.";
    findings.push_back(std::move(f));
  }
}

}  // namespace

const Rule pins_either_way_rule{"pins-either-way", Level::note, "The stock goes onto its pins the wrong way round too.",
                                page, check};

}  // namespace provecut
