#include <fmt/core.h>

#include "report/facts/setup_words.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace pins_either_way {

constexpr std::string_view page = R"(## What it finds

The stock also fits its pins rotated by 180° or, if it is square, by 90°.

## Why it matters

The wrong way round it looks right, and everything on this side is cut in the wrong place.

## Example

Two pins of one diameter on the middle line, one as far from the left end as the other from the right.

## What to do

Put both pins off the middle line, use two diameters, or add a third pin. Or draw an arrow on the stock and accept
this finding with that reason.

## What `amount` is

There is none.

## Source

Geometry. A shift of up to 5 mm would not be noticed: our estimate.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (const PinsElsewhere& p : facts.run.pins_either_way) {
    const ProgramFacts& program = facts.programs[p.program];
    Finding f = jobFinding(facts, pins_either_way_rule, program.setup->place);
    f.setup = program.setup->name;
    f.message =
        fmt::format("the stock also fits the pins of {} rotated by {}°", setupText(*program.setup), p.turned_deg);
    f.help = "Put the pins off the middle line, use two diameters or a third pin, or mark the stock.";
    findings.push_back(std::move(f));
  }
}

}  // namespace pins_either_way

const Rule pins_either_way_rule{"pins-either-way", Level::note, "The stock also fits its pins the wrong way round.",
                                pins_either_way::page, pins_either_way::check};

}  // namespace provecut
