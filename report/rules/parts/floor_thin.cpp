#include <fmt/core.h>

#include <algorithm>

#include "report/base/dimension_text.h"
#include "report/rules/list.h"
#include "report/rules/shared/cut_short.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/thickness_text.h"
#include "sim/clearance/tolerance.h"

namespace provecut {

namespace floor_thin {

constexpr std::string_view page = R"(## What it finds

A floor or web thinner than `limits.min_floor`, under a pocket or between cuts from both sides. The whole
`thickness_tolerance` of the stock counts, because thinner stock makes the floor thinner.

## Why it matters

A thin floor flutters, shows through, or breaks out under the bit.

## Example

In 19 mm stock, from the back, over a 10 mm deep pocket in the front:

    G1 Z-8 F300

That leaves 1 mm.

## What to do

Cut less deep, by as much as the finding says. Or measure the stock and correct `stock.size`.

## What `amount` is

The thickness left in mm at the stock's nominal thickness, the smallest of the group. Over the tolerance it may be
less; the message then says how much.

## Source

Geometry of the cut. You set `min_floor`; the default is 1.5 mm; in stock thinner than 5 mm it is 0.3 of the thickness
(our own estimate): a slot halfway into a 1.6 mm sheet is meant to leave 0.8 mm.
)";

// Programs write depths with three or four decimals: 16.501 for 16.5.
constexpr double written_mm = 0.002;

// A cut that may or may not go through is not-through's, a skin between two holes is holes-miss's.
bool isForAnotherRule(const Facts& facts, int i, const ThinFloor& t) {
  if (facts.programs[i].entry->through && t.moves_with_stock != 0 &&
      t.thickness_mm < facts.job.stock.thickness_tolerance_mm)
    return true;
  return std::any_of(facts.run.hole_pairs.begin(), facts.run.hole_pairs.end(),
                     [&](const HolePair& p) { return p.run_b == i && p.move_b == t.move; });
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  const double min_mm = facts.job.limits.min_floor_mm;
  for (int i = 0; i < std::ssize(facts.run.programs); ++i) {
    std::vector<Occurrence> thin;
    const ThinFloor* thinnest = nullptr;
    // Meant to go through: through-cut-short says so, and to cut deeper.
    const double short_mm = cutsThatFallShort(facts, i).empty() ? 0 : shortCutLimit_mm(facts, i);
    for (const ThinFloor& t : facts.run.programs[i].thin_floors) {
      if (t.worst_mm >= min_mm - written_mm || isForAnotherRule(facts, i, t)) continue;
      if (t.thickness_mm <= short_mm) continue;
      thin.push_back({t.move, t.thickness_mm, t.at});
      if (!thinnest || t.thickness_mm < thinnest->thickness_mm) thinnest = &t;
    }
    if (thin.empty()) continue;
    Finding f = groupFinding(facts, i, floor_thin_rule, thin, Worst::smallest, Quantity::length);
    const Compared nominal = comparedText(facts.job, Quantity::length, thinnest->thickness_mm, min_mm);
    f.amount_text = nominal.actual;
    const Compared worst = comparedText(facts.job, Quantity::length, thinnest->worst_mm, min_mm);
    const bool thinner_stock_counts = thinnest->worst_mm < thinnest->thickness_mm - clearance::contact_tolerance_mm;
    if (!thinner_stock_counts) {
      f.message = fmt::format("floor only {} thick (minimum {})", worst.actual, worst.limit);
    } else {
      f.message = fmt::format("floor {} thick (minimum {}), {} if the stock is {} {}", nominal.actual, nominal.limit,
                              thinnest->worst_mm > 0 ? "only " + worst.actual : "a hole",
                              dimensionWithUnit(facts.job, facts.job.stock.thickness_tolerance_mm),
                              thinnest->moves_with_stock < 0 ? "thicker" : "thinner");
    }
    const double too_deep_mm = min_mm - thinnest->worst_mm;
    f.help = fmt::format("Cut at least {} less deep here.", atLeastText(facts.job, Quantity::length, too_deep_mm));
    std::vector<AdvisedChange> way;
    for (const Occurrence& o : thin) {
      const Motion& m = facts.programs[i].program.motions[o.move];
      way.push_back({ChangeKind::down_to, lowestTip(m).z + too_deep_mm, {m.line}, m.tool, -1, {}});
    }
    f.ways.push_back(std::move(way));
    if (thinnest->moves_with_stock == 0) {
      const std::string thickness = thicknessText(facts.job, thinnest->thickness_mm, 0);
      if (!thickness.empty()) f.help += " " + thickness;
    }
    findings.push_back(std::move(f));
  }
}

}  // namespace floor_thin

const Rule floor_thin_rule{"floor-thin", Level::look, "A floor or web is too thin.", floor_thin::page,
                           floor_thin::check};

}  // namespace provecut
