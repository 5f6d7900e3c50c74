#include <fmt/core.h>

#include <set>
#include <vector>

#include "report/base/wording.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace screw_in_pocket {

constexpr std::string_view page = R"(## What it finds

Part of a screw's head has less material under it than `limits.min_floor` at the start of a program that it is fitted
for. A pocket or hole on either side counts.

## Why it matters

The head pulls through or the floor breaks, and the stock is loose. Over a pocket of this side the head also sits
deeper than the job file says.

## Example

An 8 mm deep pocket from each side of an 18 mm board leaves 2 mm. With `min_floor = 3` a screw there is found.

## What to do

Move the screw to full thickness. `provecut place` shows the pockets of both sides and the nearest free spot.

## What `amount` is

The least thickness under the head in mm, from the cells under it.

## Source

You set `limits.min_floor`; the default is 1.5 mm; in stock thinner than 5 mm it is 0.3 of the thickness.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  const double wanted = facts.job.limits.min_floor_mm;
  std::set<int> seen;
  std::vector<const ScrewSeat*> first;  // of each screw, where it first has too little
  for (const ScrewSeat& seat : facts.run.screw_seats) {
    if (seat.thickness_mm < wanted - 1e-4 && seen.insert(seat.hold_down).second) first.push_back(&seat);
  }
  for (const ScrewSeat* seat : first) {
    const HoldDown& screw = facts.job.hold_downs[seat->hold_down];
    const ProgramFacts& program = facts.programs[seat->program];
    Finding f = jobFinding(facts, screw_in_pocket_rule, screw.place);
    f.setup = program.setup->name;
    f.subject = screw.name;
    f.amount = seat->thickness_mm;
    f.unit = "mm";
    const Compared text = comparedText(facts.job, Quantity::length, seat->thickness_mm, wanted);
    if (seat->thickness_mm > 1e-4) f.amount_text = text.actual;
    f.message =
        fmt::format("{} has {} under part of its head (minimum {}) when {} starts", screw.name,
                    seat->thickness_mm > 1e-4 ? "only " + text.actual : "nothing", text.limit, program.entry->file);
    f.help = "Move it to where the stock has its full thickness.";
    findings.push_back(std::move(f));
  }
}

}  // namespace screw_in_pocket

const Rule screw_in_pocket_rule{"screw-in-pocket", Level::look, "A screw's head has too little material under it.",
                                screw_in_pocket::page, screw_in_pocket::check};

}  // namespace provecut
