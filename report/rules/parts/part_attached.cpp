#include <fmt/core.h>

#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/piece_findings.h"

namespace provecut {

namespace part_attached {

constexpr std::string_view page = R"(## What it finds

The outline of a part or offcut goes through in a few places only. Tabs, or the ramps beside them, are left along more
than 40 % of it, so it is neither loose nor held by tabs, but still attached to the stock.

## Why it matters

You have to saw it out. If the tabs swallow the whole last pass, the program did not do its job.

## Example

A 25.4 mm hole with a 6.35 mm bit has a path of 59.8 mm. Four 7.94 mm tabs, each lifted for 14.3 mm (tab and bit),
swallow 57.2 mm of it. Only 2.7 mm is cut through.

## What to do

Give small outlines fewer or shorter tabs, or clear small offcuts away as a pocket.

## What `amount` is

The length of the outline that is cut through in mm, along the part's edge.

## Source

Geometry. A tab is lifted for its own length plus the bit's diameter.
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
      const std::string_view what = pieceWord(size.x * size.y);
      const auto length = [&](double mm) { return quantityText(facts.job, Quantity::length, mm); };
      f.amount_text = length(a.open_mm);
      f.message =
          fmt::format("only {} of the {} outline of this {} {} is cut through; the rest is {} thick", length(a.open_mm),
                      length(a.outline_mm), sizeText(facts.job, size), what, length(a.web_thickness_mm));
      f.help = fmt::format("If the {} must come loose, use fewer or shorter tabs here.", what);
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace part_attached

const Rule part_attached_rule{"part-attached", Level::note,
                              "An outline is cut through in a few places only, so the part stays attached.",
                              part_attached::page, part_attached::check};

}  // namespace provecut
