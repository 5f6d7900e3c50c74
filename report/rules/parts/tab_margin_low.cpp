#include <algorithm>

#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/piece_findings.h"
#include "report/rules/shared/tab_margin.h"
#include "sim/clearance/tolerance.h"
#include "sim/pieces/tab_strength.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

A part that hangs on tabs alone, where one of its tabs by itself bears less than twice what one tooth of the cutter may exert. All
tabs together do better; where even they do not, it comes under tabs-overloaded, which also says how both numbers are found.

## Why it matters

The cutter pushes hardest on the tab beside it. A tab over a kerf that runs with the grain holds a twentieth of one across it.

## Example

A tab of 8 x 3 mm over a 6 mm kerf along the grain of red oak bears 29 N; 3 mm deep at 0.083 mm per tooth the cutter exerts 12 N.
The margin is 2.4. At 6 mm deep it is 1.2, and a note.

## What to do

Move such tabs to where the kerf crosses the grain, make them longer (twice the length bears four times the force), or let the
last pass be thinner.

## What `amount` is

How many times the tooth's force the weakest tab bears alone.

## Source

As tabs-overloaded; the wanted margin of 2 is our estimate.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  addPieceFindings(
      facts, tab_margin_low_rule, "part",
      [&](const Piece& p) {
        if (p.free || !p.held_by_hold_downs.empty() || p.held_by_tape) return false;
        const auto margin = tabMargin(facts, p);
        return margin && margin->together() >= 1 &&
               margin->weakest() < wanted_tab_margin - clearance::contact_tolerance_mm;
      },
      [&](const Piece& piece, Finding& f) {
        const Stock& stock = facts.job.stock;
        const TabMargin m = *tabMargin(facts, piece);
        const Tab& tab = *std::min_element(piece.tabs.begin(), piece.tabs.end(), [&](const Tab& a, const Tab& b) {
          return pieces::tabSideLoad_n(stock, a) < pieces::tabSideLoad_n(stock, b);
        });
        f.at = tab.at;
        f.amount = m.weakest();
        f.unit = "times";
        f.message = "a tab of " + quantityText(facts.job, Quantity::length, tab.length_mm) + " by " +
                    quantityText(facts.job, Quantity::length, tab.thickness_mm) + " bears " +
                    fixedText(m.weakest_n, 0) + " N, " + fixedText(m.weakest(), 1) +
                    " times what a tooth beside it may exert; " + fixedText(wanted_tab_margin, 0) + " wanted";
        if (tab.along_grain) f.message += ". Its kerf runs with the grain";
        const bool wood = stock.material == Material::softwood || stock.material == Material::hardwood;
        const bool weakest_taken = wood && !stock.species;
        f.help = "Make this tab longer, or move it to where the kerf crosses the grain.";
        if (weakest_taken) f.help += " Without `stock.species` the weakest wood listed was taken.";
      },
      findings);
}

}  // namespace

const Rule tab_margin_low_rule{"tab-margin-low", Level::note,
                               "One tab alone bears less than twice what the cutter may exert.", page, check};

}  // namespace provecut
