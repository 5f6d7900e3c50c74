#include <algorithm>

#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/thickness_text.h"
#include "sim/clearance/tolerance.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

A floor or web that is left thinner than `limits.min_floor`: under a pocket, or between cuts from both sides. It is judged over
the stock's `thickness_tolerance`, because stock thinner than said takes its difference from the floor.

## Why it matters

A thin floor flutters, shows through, or breaks out under the bit.

## Example

In stock of 19 mm, from the back, over a front pocket of 10 mm:

    G1 Z-8 F300

One millimetre is left.

## What to do

Cut less deep by the amount that the finding names, or measure the stock and correct `stock.size`.

## What `amount` is

The thickness left in mm for the stock as said, the smallest over the group. Over the tolerance it may be less: the message says
how much.

## Source

Geometry of the cut; `min_floor` is yours.
)";

// What may be open or shut as the stock turns out is not-through's, a skin between two holes is holes-miss's.
bool saidOtherwise(const Facts& facts, std::size_t i, const ThinFloor& t) {
  if (facts.programs[i].entry->through && t.moves_with_stock != 0 &&
      t.thickness_mm < facts.job.stock.thickness_tolerance_mm)
    return true;
  return std::any_of(facts.run.hole_pairs.begin(), facts.run.hole_pairs.end(),
                     [&](const HolePair& p) { return p.run_b == static_cast<int>(i) && p.move_b == t.move; });
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  const double wanted_mm = facts.job.limits.min_floor_mm;
  for (std::size_t i = 0; i < facts.run.programs.size(); ++i) {
    std::vector<Occurrence> thin;
    const ThinFloor* thinnest = nullptr;
    for (const ThinFloor& t : facts.run.programs[i].thin_floors) {
      if (t.worst_mm >= wanted_mm - clearance::contact_tolerance_mm || saidOtherwise(facts, i, t)) continue;
      thin.push_back({t.move, t.thickness_mm, t.at});
      if (!thinnest || t.thickness_mm < thinnest->thickness_mm) thinnest = &t;
    }
    if (thin.empty()) continue;
    Finding f = groupFinding(facts, i, floor_thin_rule, thin, Worst::smallest, Quantity::length);
    f.unit = "mm";
    const Compared worst = comparedText(facts.job, Quantity::length, thinnest->worst_mm, wanted_mm);
    f.message =
        "leaves " + comparedText(facts.job, Quantity::length, thinnest->thickness_mm, wanted_mm).met + " of floor";
    if (thinnest->worst_mm < thinnest->thickness_mm - clearance::contact_tolerance_mm) {
      f.message += ", " + (thinnest->worst_mm > 0 ? worst.met : std::string("none")) +
                   " where the stock is thinner than said but within its tolerance";
    }
    f.message += "; " + worst.allowed + " wanted";
    f.help =
        "Cut at least " + atLeastText(facts.job, Quantity::length, wanted_mm - thinnest->worst_mm) + " less deep here.";
    const std::string thickness = thicknessText(facts.job, thinnest->thickness_mm, thinnest->moves_with_stock);
    if (!thickness.empty()) f.help += " " + thickness;
    findings.push_back(std::move(f));
  }
}

}  // namespace

const Rule floor_thin_rule{"floor-thin", Level::look, "A floor or web is left thinner than wanted.", page, check};

}  // namespace provecut
