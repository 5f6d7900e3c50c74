#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

Stock of solid wood from which one side's programs take more than a quarter of its volume before it is turned over: as much as
half the thickness over half of the plan.

## Why it matters

Wood holds stresses and dries on its faces. Freed of them on one side it bows or cups, within minutes or overnight: it no longer
lies flat on the spoilboard, and the second side is cut too deep in places. No look at a program can tell how much.

## Example

A tray of 30 mm walnut, hollowed 22 mm deep, then turned over for its foot.

## What to do

Rough both sides, let the stock rest, then finish; or hold it down near the middle too, and measure its thickness and its bow before
the second side starts.

## What `amount` is

The share of the stock's volume in per cent that the side takes.

## Source

Common practice, no source.
)";

constexpr double max_share = 0.25;

void check(const Facts& facts, std::vector<Finding>& findings) {
  const Stock& stock = facts.job.stock;
  if (!stock.material_given || (stock.material != Material::softwood && stock.material != Material::hardwood)) return;
  const double volume_mm3 = stock.size_mm.x * stock.size_mm.y * stock.size_mm.z;
  double removed_mm3 = 0;
  for (std::size_t s = 0; s + 1 < facts.job.setups.size(); ++s) {
    const Setup &setup = facts.job.setups[s], &next = facts.job.setups[s + 1];
    for (const ProgramRun& p : facts.run.programs) {
      if (p.setup == static_cast<int>(s)) removed_mm3 += p.removed_mm3;
    }
    if ((setup.flip == Flip::none) == (next.flip == Flip::none)) continue;
    const double share = removed_mm3 / volume_mm3;
    removed_mm3 = 0;
    if (share <= max_share) continue;
    Finding f = jobFinding(facts, may_bow_rule, next.place);
    f.setup = next.name;
    f.amount = 100 * share;
    f.unit = "%";
    f.message = "the side before, " + setup.name + ", takes " + fixedText(100 * share, 0) +
                " % of stock of solid wood: it may bow before this one is cut";
    f.help = "Let it rest and see that it lies flat; measure its thickness before this side starts.";
    findings.push_back(std::move(f));
  }
}

}  // namespace

const Rule may_bow_rule{"may-bow", Level::note, "Solid wood may bow once one side is cut away.", page, check};

}  // namespace provecut
