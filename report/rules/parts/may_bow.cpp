#include <fmt/core.h>

#include "report/facts/setup_words.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "sim/path/stock_plan.h"

namespace provecut {

namespace may_bow {

constexpr std::string_view page = R"(## What it finds

The programs of one side take more than a quarter of the volume of solid-wood stock before the flip, for instance half
the thickness over half the area.

## Why it matters

Wood is full of stress and dries from its faces. Cut away one side and it bows or cups, within minutes or overnight.
It no longer lies flat on the spoilboard, and the second side is cut too deep in places. No check can say how much.

## Example

A 30 mm walnut tray, hollowed 22 mm deep, then flipped to cut its foot.

## What to do

Rough both sides, let the stock rest, then finish. Or hold it down near the middle too, and measure its thickness and
bow before the second side starts.

## What `amount` is

The share of the stock's volume that this side removes, in percent.

## Source

Common practice; no published source.
)";

constexpr double max_share = 0.25;

void check(const Facts& facts, std::vector<Finding>& findings) {
  const Stock& stock = facts.job.stock;
  if (!stock.material_given || (stock.material != Material::softwood && stock.material != Material::hardwood)) return;
  const double volume_mm3 = area_mm2(stockPlan(stock, Setup{})) * stock.size_mm.z;
  double removed_mm3 = 0;
  for (int s = 0; s + 1 < std::ssize(facts.job.setups); ++s) {
    const Setup &setup = facts.job.setups[s], &next = facts.job.setups[s + 1];
    for (const ProgramRun& p : facts.run.programs) {
      if (p.setup == s) removed_mm3 += p.removed_mm3;
    }
    if ((setup.flip == Flip::none) == (next.flip == Flip::none)) continue;
    const double share = removed_mm3 / volume_mm3;
    removed_mm3 = 0;
    if (share <= max_share) continue;
    Finding f = jobFinding(facts, may_bow_rule, next.place);
    f.setup = next.name;
    f.amount = 100 * share;
    f.unit = "%";
    f.message = fmt::format("{} removes {:.0f} % of the solid wood; the stock may bow before this side is cut",
                            setupText(setup), 100 * share);
    f.help = "Let it rest and check that it lies flat. Measure its thickness before this side starts.";
    findings.push_back(std::move(f));
  }
}

}  // namespace may_bow

const Rule may_bow_rule{"may-bow", Level::note, "Solid wood may bow after one side is cut away.", may_bow::page,
                        may_bow::check};

}  // namespace provecut
