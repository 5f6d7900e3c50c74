#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

A kerf round a part or a slug that goes through in a few places only: the tabs, or the ramps beside them, take up more than three
quarters of its outline, so that what it surrounds is not free and does not hang, but is still part of the stock.

## Why it matters

It has to be sawn out; where the tabs swallow the whole last pass, the program did not do what it was written for.

## Example

A hole of 25.4 mm with a 6.35 mm bit has a path of 59.8 mm. Four tabs of 7.94 mm, each lifted for 14.3 mm (tab and bit), swallow
57.2 mm of it: 2.7 mm is cut through.

## What to do

Give small outlines fewer or shorter tabs, or cut small slugs away whole.

## What `amount` is

The length of the outline in mm that is open, measured along the part's edge.

## Source

Geometry. A tab is lifted for its own length and the bit's diameter.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.run.programs.size(); ++i) {
    for (const StillAttached& a : facts.run.programs[i].still_attached) {
      const std::vector<Motion>& motions = facts.programs[i].program.motions;
      Finding f =
          placeFinding(facts, i, part_attached_rule, a.move < motions.size() ? placeOf(motions[a.move]) : Place{});
      f.moves = 1;
      f.at = a.at;
      f.amount = a.open_mm;
      f.unit = "mm";
      const Vec3 size = a.bounds.high - a.bounds.low;
      f.message = "of the outline round " + sizeText(facts.job, size) + " only " +
                  quantityText(facts.job, Quantity::length, a.open_mm) + " of " +
                  quantityText(facts.job, Quantity::length, a.outline_mm) + " is cut through; the rest stays, " +
                  quantityText(facts.job, Quantity::length, a.web_thickness_mm) + " thick";
      f.help = "If the part is meant to come loose, use fewer or shorter tabs here.";
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace

const Rule part_attached_rule{"part-attached", Level::note,
                              "An outline hardly goes through, so that its part stays attached.", page, check};

}  // namespace provecut
