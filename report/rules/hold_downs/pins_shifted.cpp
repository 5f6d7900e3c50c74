#include <cmath>

#include "report/base/wording.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

The pins of a setup do not meet the stock's holes where the stock should lie, but all of them would if it lay shifted, by at
most 50 mm.

## Why it matters

The stock goes onto the pins without any trouble, and the whole second side comes out shifted against the first.

## Example

Stock 420 wide, pins at x 60 and 372 in the board, holes bored through into them from the front, then turned over Y. The holes
lie at 360 and 48 now, 12 mm to the left of the pins: the stock lies 60 + 372 - 420 = 12 mm too far to the right.

## What to do

Pins that stay in the board need holes that are their own mirror image about the turning axis: on it, or in pairs, x and
(width - x) for a turn over Y, y and (depth - y) for one over X. Or move the pins, or the work zero, by the shift.

## What `amount` is

The length of the shift in mm.

## Source

Geometry.
)";

std::string wayText(const Job& job, SetupDirection2 shift) {
  std::vector<std::string> ways;
  if (std::fabs(shift.x) > 0.005)
    ways.push_back(quantityText(job, Quantity::length, std::fabs(shift.x)) +
                   (shift.x < 0 ? " to the left" : " to the right"));
  if (std::fabs(shift.y) > 0.005)
    ways.push_back(quantityText(job, Quantity::length, std::fabs(shift.y)) +
                   (shift.y < 0 ? " to the front" : " to the back"));
  return listText(ways);
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (const PinsElsewhere& p : facts.run.pins_shifted) {
    const ProgramFacts& program = facts.programs[static_cast<std::size_t>(p.program)];
    Finding f = jobFinding(facts, pins_shifted_rule, program.setup->place);
    f.setup = program.setup->name;
    f.amount = length(p.shift);
    f.unit = "mm";
    f.message = "the stock goes onto the pins of setup " + f.setup + ", but lies " + wayText(facts.job, p.shift) +
                " of where it should";
    f.help =
        "Let the pins and their holes be mirror images of themselves about the axis that the stock is turned over, or "
        "move the pins " +
        wayText(facts.job, p.shift * -1) + ".";
    findings.push_back(std::move(f));
  }
}

}  // namespace

const Rule pins_shifted_rule{"pins-shifted", Level::stop, "The stock goes onto its pins, but lies shifted.", page,
                             check};

}  // namespace provecut
