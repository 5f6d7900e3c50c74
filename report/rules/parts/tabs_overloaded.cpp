#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/piece_findings.h"
#include "report/rules/shared/tab_margin.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

A part that hangs on tabs alone, where all its tabs together bear less side force than one tooth of the cutter may exert on the
part beside them. Each tab is taken as a beam across the kerf, its ends held half as well as in theory; the tooth's force comes
from the depth of wood that the cutter really meets in the last cuts of the outline, and from the feed per tooth. It needs
`stock.material`; with `stock.species` the strength of that wood is taken, without it the weakest listed.

## Why it matters

It is the last cut at full depth that breaks tabs, not the cut by layers. The part then swings into the bit.

## Example

One tab of 8 x 3 mm over a 6 mm kerf that runs with the grain of pine bears 15 N. A 6 mm bit that closes the outline 18 mm deep
exerts 40 N, by layers of 3 mm only 7 N.

## What to do

Cut the outline in layers so that the last one is thin, make the tabs longer, or put them where the kerf crosses the grain.

## What `amount` is

How many times the tooth's force all tabs bear together; below 1 they may all go.

## Source

Beam theory; strengths: USDA Wood Handbook FPL-GTR-190, tables 5-3 and 5-5; tooth's force: linear-edge force model with our
estimates for wood (real forces spread by half, a dull bit needs up to twice as much).
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  addPieceFindings(
      facts, tabs_overloaded_rule, "part",
      [&](const Piece& p) {
        if (p.free || !p.held_by_hold_downs.empty() || p.held_by_tape) return false;
        const auto margin = tabMargin(facts, p);
        return margin && margin->together() < 1;
      },
      [&](const Piece& piece, Finding& f) {
        const TabMargin m = *tabMargin(facts, piece);
        f.amount = m.together();
        f.unit = "times";
        const bool several = piece.tabs.size() > 1;
        f.message = "the " + plural(piece.tabs.size(), "tab", "tabs") + " of a part of " +
                    sizeText(facts.job, piece.bounds.high - piece.bounds.low) + (several ? " bear " : " bears ") +
                    fixedText(m.together_n, 0) +
                    (several ? " N together, a tooth beside them" : " N, a tooth beside it") + " may push with " +
                    fixedText(m.tooth_n, 0) + " N (" + quantityText(facts.job, Quantity::length, m.axial_depth_mm) +
                    " deep)";
        f.help = "Let the last pass of the outline be less than " +
                 atMostText(facts.job, Quantity::length, m.axial_depth_mm * m.together() / wanted_tab_margin) +
                 " deep, make the tabs longer, or hold the part otherwise.";
        const auto i = static_cast<std::size_t>(m.move.run);
        const ProgramFacts& p = facts.programs[i];
        f.related.push_back(
            {p.entry->file, shownPlace(p, placeOf(p.program.motions[m.move.move])), "the heaviest cut beside them"});
      },
      findings);
}

}  // namespace

const Rule tabs_overloaded_rule{"tabs-overloaded", Level::look,
                                "A part's tabs bear less than the cutter may exert beside them.", page, check};

}  // namespace provecut
