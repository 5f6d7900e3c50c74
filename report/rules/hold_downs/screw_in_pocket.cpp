#include <set>
#include <vector>

#include "report/base/wording.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

A screw whose head bears, anywhere outside its shaft, on less material than `limits.min_floor` when a program starts that it
holds for: over a pocket or hole of this side or of the other.

## Why it matters

The head pulls through or the floor breaks, and the stock is loose. Over a pocket of this side the head also lies deeper than
the job file says.

## Example

A pocket 8 mm deep from each side of an 18 mm board leaves 2 mm; with `min_floor = 3` a screw there is found.

## What to do

Move the screw to full thickness: `provecut place` shows the pockets of both sides and the nearest free spot.

## What `amount` is

The least thickness under the head in mm, from the columns of the cell raster under it.

## Source

`limits.min_floor` is yours; 1.5 mm without it.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  const double wanted = facts.job.limits.min_floor_mm;
  std::set<int> seen;
  std::vector<const ScrewSeat*> first;  // of each screw, where it first has too little
  for (const ScrewSeat& seat : facts.run.screw_seats) {
    if (seat.thickness_mm < wanted - 1e-4 && seen.insert(seat.hold_down).second) first.push_back(&seat);
  }
  for (const ScrewSeat* seat : first) {
    const HoldDown& screw = facts.job.hold_downs[static_cast<std::size_t>(seat->hold_down)];
    const ProgramFacts& program = facts.programs[static_cast<std::size_t>(seat->program)];
    Finding f = jobFinding(facts, screw_in_pocket_rule, screw.place);
    f.setup = program.setup->name;
    f.subject = screw.name;
    f.amount = seat->thickness_mm;
    f.unit = "mm";
    const Compared text = comparedText(facts.job, Quantity::length, seat->thickness_mm, wanted);
    f.message = screw.name + " has " + (seat->thickness_mm > 1e-4 ? text.met : "nothing") +
                " under part of its head when " + program.entry->file + " starts, " + text.allowed + " wanted";
    f.help = "Move it to where the stock is whole.";
    findings.push_back(std::move(f));
  }
}

}  // namespace

const Rule screw_in_pocket_rule{"screw-in-pocket", Level::look, "A screw's head bears on too little material.", page,
                                check};

}  // namespace provecut
