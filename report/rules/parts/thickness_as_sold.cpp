#include <fmt/core.h>

#include "report/base/dimension_text.h"
#include "report/rules/list.h"
#include "report/rules/shared/cut_short.h"
#include "report/rules/shared/grouping.h"
#include "sim/clearance/tolerance.h"
#include "sim/parts/sold_thickness.h"

namespace provecut {

namespace thickness_as_sold {

constexpr std::string_view page = R"(## What it finds

A cut ends so near the underside of a sheet that the sheet's real thickness decides if it goes through, and the
job file has no `thickness_tolerance`. The deepest cut of each place counts, whatever pass or later program makes it.
Where it goes through by less than 0.05 mm, not-through tells. This is checked for materials with a standard for how far a sheet may be off, and for thicknesses that sheets are sold
as: 3.57 mm was measured, and so was what you give with `--thickness`.

## Why it matters

By its standard, cast acrylic sold as 6 mm may be 5.0 to 7.0 mm thick. Plywood and MDF vary too. In a thick sheet the
part stays put; in a thin one the cut goes deeper into the spoilboard than planned.

## Example

In 6 mm acrylic, zero on its top:

    G1 Z-6.3 F800

On paper it goes through by 0.3 mm. In a 7 mm sheet 0.7 mm is left.

## What to do

Measure the sheet where it is cut. Put its thickness in the job file (or use `--thickness`), and how far your
measurements differ as `thickness_tolerance`. Then not-through and floor-thin check each cut.

## What `amount` is

How much thicker than nominal the standard allows the sheet to be, in mm.

## Source

Acrylic, cast: ISO 7823-1, ±(0.4 + 0.1 t); extruded sheets vary less (ISO 7823-2, 5 %). Plywood, sanded: EN 315, +(0.2
+ 0.03 t) −(0.4 + 0.03 t). MDF: EN 622-1, 0.2 mm up to 19 mm, else 0.3 mm. Board: EN 300, 0.8 mm for an OSB that is
not sanded; a sanded one and a particleboard (EN 312) vary by 0.3 mm (all from memory).
)";

// "goes through by only 0.3 mm"
std::string depthText(const Job& job, const DoubtfulThrough& d) {
  if (d.as_said_mm > clearance::contact_tolerance_mm)
    return fmt::format("leaves {} skin", withArticle(quantityText(job, Quantity::length, d.as_said_mm)));
  if (d.beyond_mm < 1e-3) return "cuts exactly as deep as the stock is thick";
  return fmt::format("goes through by only {}", quantityText(job, Quantity::length, d.beyond_mm));
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  const Stock& stock = facts.job.stock;
  const double t = stock.size_mm.z;
  const auto spread = pieces::soldSpread(stock.material, t);
  if (!spread || facts.said_thickness_mm) return;
  for (std::size_t i = 0; i < facts.run.programs.size(); ++i) {
    std::vector<Occurrence> doubtful;
    const DoubtfulThrough* worst = nullptr;
    for (const DoubtfulThrough& d : facts.run.programs[i].doubtful_throughs) {
      if (d.why != ThroughDoubt::as_sold || endsAtGuessedThickness(facts, d) || mayLeaveFoil(d)) continue;
      doubtful.push_back({d.move, d.thickest_mm, d.at});
      if (!worst || d.thickest_mm > worst->thickest_mm) worst = &d;
    }
    if (!worst || !cutsThatFallShort(facts, i).empty()) continue;
    Finding f = groupFinding(facts, i, thickness_as_sold_rule, doubtful, Worst::largest, Quantity::length);
    f.amount = spread->thicker_mm;
    f.amount_text.clear();
    f.message = fmt::format("{}; a sheet sold as {} may measure {} to {}", depthText(facts.job, *worst),
                            dimensionWithUnit(facts.job, t), dimensionText(facts.job, t - spread->thinner_mm),
                            dimensionWithUnit(facts.job, t + spread->thicker_mm));
    f.help = "Measure the sheet. Put its thickness and a thickness_tolerance in the job file.";
    findings.push_back(std::move(f));
  }
}

}  // namespace thickness_as_sold

const Rule thickness_as_sold_rule{"thickness-as-sold", Level::note,
                                  "A through-cut depends on the sheet's real thickness.", thickness_as_sold::page,
                                  thickness_as_sold::check};

}  // namespace provecut
