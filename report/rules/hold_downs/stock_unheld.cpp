#include <algorithm>

#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace stock_unheld {

constexpr std::string_view page = R"(## What it finds

A program cuts while no hold-down of the job holds the stock. Either none is listed for it, or only pins (pins only
locate it), or none of them reaches the stock. A job without any hold-down is left out.

What holds:

- screws and clamps: the piece that they are on;
- `kind = "tape"`, `"glue"` or `"vacuum"`, or the setup's `held_by`: every piece that still lies on it, parts too. A
  piece on vacuum must be at least 25 × 25 mm. provecut knows no more about your vacuum: a part with holes in it, on a
  porous board or near a cut seal slips sooner. It does not know how strong your glue or tape is either;
- `kind = "vise"` (each jaw its own section) and `"side-clamp"` (wedges, toe clamps, side grips, fixed stops): what they
  press on from two opposite sides, within 1 mm. So they hold the stock by its rim, but no part that is cut out of it;
- `held_by = "vise"` or `"side-clamp"`, with no place given: the piece that reaches all four sides of the stock. The
  tool is then not checked against the jaws or clamps, and the report says so.

## Why it matters

The first cut lifts or twists the stock.

## Example

    [[setup.program]]
    file = "90-outline.nc"
    hold_downs = ["pin W", "pin E"]

## What to do

Fit something that holds the stock, and list it for this program. If a vacuum table, glue, a vise or side clamps hold
it, say so: `held_by = "vacuum"` in the setup.

## What `amount` is

There is none.

## Source

Common practice; no published source. The 25 × 25 mm and the 1 mm are our own estimates.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  const auto holds = [](const HoldDown& h) { return h.kind != HoldDownKind::pin; };
  if (std::none_of(facts.job.hold_downs.begin(), facts.job.hold_downs.end(), holds)) return;
  for (std::size_t i = 0; i < facts.run.programs.size(); ++i) {
    const ProgramRun& run = facts.run.programs[i];
    if (run.removed_mm3 <= 0 || run.holding.empty()) continue;
    const PieceHeld& stock = run.holding.front();
    if (stock.part || stock.frame || !stock.by.empty()) continue;
    const ProgramEntry& entry = *facts.programs[i].entry;
    Finding f = placeFinding(facts, i, stock_unheld_rule, Place{});
    const bool pins_alone = std::all_of(entry.hold_downs.begin(), entry.hold_downs.end(),
                                        [&](int h) { return !holds(facts.job.hold_downs[h]); });
    f.message = entry.hold_downs.empty() ? "no hold-down is listed for this program"
                : pins_alone ? "only pins are listed for this program; they locate the stock, but do not hold it"
                             : "this program's hold-downs do not hold the stock";
    const bool edges_only =
        !entry.hold_downs.empty() && std::all_of(entry.hold_downs.begin(), entry.hold_downs.end(),
                                                 [&](int h) { return gripsEdges(facts.job.hold_downs[h].kind); });
    f.help = edges_only ? "Jaws and side clamps hold only where two touch the stock from opposite sides: check where "
                          "they are."
                        : "Fit something that holds the stock, and list it under this program's `hold_downs`. On a "
                          "vacuum table set the setup's `held_by`.";
    relateToJob(facts, f, entry.place, "the program is listed here");
    findings.push_back(std::move(f));
  }
}

}  // namespace stock_unheld

const Rule stock_unheld_rule{"stock-unheld", Level::look, "A program cuts while nothing holds the stock down.",
                             stock_unheld::page, stock_unheld::check};

}  // namespace provecut
