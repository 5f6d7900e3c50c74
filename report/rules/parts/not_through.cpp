#include <algorithm>

#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "sim/clearance/tolerance.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

A cut about as deep as the stock is thick, which leaves a skin somewhere within the stock's `thickness_tolerance`: it goes through
the stock as said, but by less than the tolerance, or it leaves less than the tolerance. The program is cut in memory a second
time, in stock that is off by the whole tolerance. Cuts that a later program makes deeper are left out. Nothing is found where
the Z zero makes the cut's depth below the underside independent of the thickness (zero on the spoilboard).

## Why it matters

The part stays in the sheet, holes stay shut under a veneer that breaks out; or a skin that was to hold the part is not there.

## Example

In stock of 18 mm, zero on its top, with `thickness_tolerance = 0.3`:

    G1 Z-18.1 F1000

Through by 0.1 mm as said; where the stock is 18.3 mm thick, 0.2 mm is left.

## What to do

Cut deeper by what the finding names, set the Z zero on the spoilboard for through cuts, or measure the stock (`--thickness`).

## What `amount` is

The skin in mm that is left where the stock is off by the whole tolerance, the thickest of the group.

## Source

Geometry of the cut; `thickness_tolerance` is yours. 0.1 to 0.5 mm below the stock is common practice, no source.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  const double tolerance_mm = facts.job.stock.thickness_tolerance_mm;
  for (std::size_t i = 0; i < facts.run.programs.size(); ++i) {
    if (!facts.programs[i].entry->through) continue;
    std::vector<Occurrence> shut;
    const DoubtfulThrough* worst = nullptr;
    for (const DoubtfulThrough& d : facts.run.programs[i].doubtful_throughs) {
      shut.push_back({d.move, d.thickest_mm, d.at});
      if (!worst || d.thickest_mm > worst->thickest_mm) worst = &d;
    }
    if (!worst) continue;
    Finding f = groupFinding(facts, i, not_through_rule, shut, Worst::largest, Quantity::length);
    f.unit = "mm";
    const std::string tolerance = quantityText(facts.job, Quantity::length, tolerance_mm);
    const std::string skin = quantityText(facts.job, Quantity::length, worst->thickest_mm);
    if (worst->as_said_mm > clearance::contact_tolerance_mm) {
      f.message = "leaves a skin of " + quantityText(facts.job, Quantity::length, worst->as_said_mm) +
                  ", within the stock's tolerance of " + tolerance + ": from nothing to " + skin +
                  " as the stock turns out";
      f.help = "If it is to go through, cut at least " + atLeastText(facts.job, Quantity::length, worst->thickest_mm) +
               " deeper; if the skin is to hold, leave more than " + tolerance +
               ", or set the Z zero on the spoilboard.";
    } else {
      const double beyond_mm = tolerance_mm - worst->thickest_mm;
      f.message =
          (beyond_mm < 1e-3 ? std::string("goes just as deep as the stock is thick")
                            : "goes through by " + quantityText(facts.job, Quantity::length, beyond_mm) + " only") +
          ": where the stock is " + tolerance + " off, a skin of " + skin + " is left";
      f.help = "Cut at least " + atLeastText(facts.job, Quantity::length, worst->thickest_mm) +
               " deeper, or set the Z zero on the spoilboard.";
    }
    findings.push_back(std::move(f));
  }
}

}  // namespace

const Rule not_through_rule{"not-through", Level::look,
                            "A through-cut may leave a skin within the stock's thickness tolerance.", page, check};

}  // namespace provecut
