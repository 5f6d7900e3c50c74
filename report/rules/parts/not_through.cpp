#include <fmt/core.h>

#include <algorithm>
#include <utility>
#include <vector>

#include "report/base/dimension_text.h"
#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/cut_short.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/stickout.h"
#include "sim/clearance/tolerance.h"
#include "sim/parts/through_doubt.h"
#include "sim/path/setup_frame.h"

namespace provecut {

namespace not_through {

constexpr double deeper_mm = 0.1;  // the least of what is common practice

constexpr std::string_view page = R"(## What it finds

A cut about as deep as the stock is thick may leave a skin somewhere within the stock's `thickness_tolerance`. It goes
through by less than the tolerance, or leaves a skin thinner than the tolerance. To find out, provecut cuts the
program a second time in stock that is off by the whole tolerance. A cut that a later program deepens is left out.
With zero on the spoilboard the depth does not depend on the thickness.

A cut that goes through by less than 0.05 mm, whatever the thickness, may leave a paper-thin skin: no spoilboard is that
flat.

## Why it matters

The part stays in the sheet, or a hole stays shut under a skin that breaks out. Or the skin meant to hold the part is
missing.

## Example

In 18 mm stock, zero on its top, with `thickness_tolerance = 0.3`:

    G1 Z-18.1 F1000

It goes through by 0.1 mm. Where the stock is 18.3 mm thick, 0.2 mm is left.

## What to do

Cut deeper, by as much as the finding says. Or set Z zero on the spoilboard for through-cuts, or measure the stock
(`--thickness`).

## What `amount` is

The thickest skin left in mm where the stock is off by the whole tolerance; 0 where only a paper-thin skin may stay.

## Source

Geometry of the cut; you set `thickness_tolerance`. 0.1 to 0.5 mm below the stock is common practice; no published
source. The 0.05 mm are our estimate.
)";

// "cuts exactly as deep as the stock is thick", "goes through by only 0.1 mm"
std::string depthText(const Job& job, double beyond_mm) {
  return beyond_mm < 1e-3 ? "cuts exactly as deep as the stock is thick"
                          : fmt::format("goes through by only {}", quantityText(job, Quantity::length, beyond_mm));
}

void wordTolerance(const Job& job, const DoubtfulThrough& worst, Finding& f) {
  const double tolerance_mm = job.stock.thickness_tolerance_mm;
  const std::string tolerance = dimensionWithUnit(job, tolerance_mm);
  const std::string deeper = atLeastText(job, Quantity::length, worst.thickest_mm);
  const std::string skin = quantityText(job, Quantity::length, worst.thickest_mm);
  if (worst.as_said_mm > clearance::contact_tolerance_mm) {
    f.message = fmt::format("leaves {} skin; with the stock's ±{} it may be anything from nothing to {}",
                            withArticle(quantityText(job, Quantity::length, worst.as_said_mm)), tolerance, skin);
    f.help = fmt::format(
        "To go through, cut at least {} deeper. To keep the skin, leave more than {}. "
        "Or set Z zero on the spoilboard.",
        deeper, tolerance);
    return;
  }
  f.message = fmt::format("{}; where the stock is {} thicker, {} is left",
                          depthText(job, tolerance_mm - worst.thickest_mm), tolerance, skin);
  f.help = fmt::format("Cut at least {} deeper, or set Z zero on the spoilboard.", deeper);
}

// Whatever the stock's thickness.
void wordExact(const Job& job, const DoubtfulThrough& worst, Finding& f) {
  f.message = depthText(job, worst.beyond_mm) + "; the smallest error in Z leaves a thin skin";
  f.amount_text.clear();
  f.help = fmt::format("Cut {} deeper, into the spoilboard.", dimensionWithUnit(job, deeper_mm));
  if (job.spoilboard.thickness_mm <= 0) {
    f.help = fmt::format("Put a spoilboard under the stock and cut {} deeper.", dimensionWithUnit(job, deeper_mm));
  } else if (job.spoilboard.allowed_cut_mm < deeper_mm) {
    f.help += fmt::format(" Set `spoilboard.allowed_cut` to {} or more.", dimensionText(job, deeper_mm));
  }
}

// Tips that are not level are left out: how deep they must go to leave no rim was not worked out.
void addWay(const Facts& facts, std::size_t program, const std::vector<Occurrence>& shut, double by_mm, Finding& f) {
  if (facts.job.spoilboard.thickness_mm <= 0) return;
  std::vector<AdvisedChange> way;
  double below_mm = 0;
  for (const Occurrence& o : shut) {
    const Motion& m = facts.programs[program].program.motions[o.move];
    if (!hasLevelTip(facts, program, o)) return;
    way.push_back({ChangeKind::down_to, lowestTip(m).z - by_mm, {m.line}, m.tool, -1, {}});
    below_mm = std::max(below_mm, -workToSetup(*facts.programs[program].setup, lowestTip(m)).z + by_mm);
  }
  if (below_mm > facts.job.spoilboard.allowed_cut_mm) way.push_back({ChangeKind::allowed_cut, below_mm, {}, 0, -1, {}});
  f.ways.push_back(std::move(way));
}

// What thickness-as-sold tells is left out, but not where the sheet was measured or a foil may stay.
bool isTold(const Facts& facts, const DoubtfulThrough& d) {
  if (endsAtGuessedThickness(facts, d)) return false;
  if (d.why == ThroughDoubt::exact) return machineKnown(facts);
  return d.why == ThroughDoubt::tolerance || mayLeaveFoil(d);
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.run.programs.size(); ++i) {
    if (!facts.programs[i].entry->through) continue;
    std::vector<Occurrence> shut;
    const DoubtfulThrough* worst = nullptr;
    for (const DoubtfulThrough& d : facts.run.programs[i].doubtful_throughs) {
      if (!isTold(facts, d)) continue;
      shut.push_back({d.move, d.why == ThroughDoubt::tolerance ? d.thickest_mm : 0, d.at});
      if (!worst || d.thickest_mm > worst->thickest_mm) worst = &d;
    }
    if (!worst) continue;
    Finding f = groupFinding(facts, i, not_through_rule, shut, Worst::largest, Quantity::length);
    const auto word = worst->why == ThroughDoubt::tolerance ? wordTolerance : wordExact;
    word(facts.job, *worst, f);
    addWay(facts, i, shut, worst->why == ThroughDoubt::tolerance ? worst->thickest_mm : deeper_mm, f);
    findings.push_back(std::move(f));
  }
}

}  // namespace not_through

const Rule not_through_rule{"not-through", Level::look,
                            "A through-cut may leave a skin within the stock's thickness tolerance.", not_through::page,
                            not_through::check};

}  // namespace provecut
