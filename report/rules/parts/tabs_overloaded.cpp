#include <fmt/core.h>

#include <optional>
#include <string>

#include "report/base/wording.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/piece_findings.h"
#include "report/rules/shared/tab_margin.h"

namespace provecut {

namespace tabs_overloaded {

constexpr std::string_view page = R"(## What it finds

A part is held only by tabs, and all its tabs together hold less than the cutter's push: the side force of one tooth
of the cutter beside them. Each tab counts as a beam across the kerf, with ends half as stiff as in theory. The push
comes from the depth of wood that the cutter really meets in the last cuts of the outline and from its chip load. This
needs `stock.material`. With `stock.species` the strength of that wood counts, without it the weakest wood listed.

## Why it matters

A last cut at full depth breaks tabs; cutting in layers does not. The part then swings into the bit.

## Example

One tab of 8 × 3 mm across a 6 mm kerf along the grain of pine holds 15 N. The push of a 6 mm bit that closes the
outline 18 mm deep is 40 N; in layers of 3 mm it is only 7 N.

## What to do

Cut the outline in layers so that the last one is thin, make the tabs longer, or put them where the kerf crosses the
grain.

## What `amount` is

The force that all tabs together hold, as a multiple of the cutter's push. Below 1 they may all break.

## Source

Beam theory. Strengths: USDA Wood Handbook FPL-GTR-190, tables 5-3 and 5-5. Cutter's push: linear-edge force model
with our estimates for wood (real forces differ by half; a dull bit needs up to twice as much).
)";

// A thinner last pass is no advice (our estimate).
constexpr double thinnest_pass_mm = 1;

void check(const Facts& facts, std::vector<Finding>& findings) {
  const PieceRule pieces{
      [&](const Piece& p) {
        const auto margin = heldByTabsAlone(p) ? tabMargin(facts, p) : std::nullopt;
        return margin && margin->total() < 1;
      },
      {},
      [&](const std::vector<const Piece*>& alike, Finding& f) {
        const Piece& piece = *alike.front();
        const TabMargin m = *tabMargin(facts, piece);
        f.amount = m.total();
        f.unit = "times";
        const bool several = piece.tabs.size() > 1;
        f.message =
            fmt::format("{} {} is held only by {}; {} {}, the cutter's push is {} at {} deep",
                        withArticle(pieceSize(facts.job, piece)), pieceWord(piece), tabsCounted(piece.tabs.size()),
                        several ? "in total they hold" : "it holds", tabForceText(m.total_n), tabForceText(m.tooth_n),
                        quantityText(facts.job, Quantity::length, m.axial_depth_mm));
        const std::string longer = fmt::format("make the {} longer, or hold the {} with {}", several ? "tabs" : "tab",
                                               pieceWord(piece), otherHold(piece));
        const double last_pass_mm = m.axial_depth_mm * m.total() / min_tab_margin;
        f.help = last_pass_mm < thinnest_pass_mm
                     ? sentence(longer)
                     : fmt::format("Make the last pass of the outline less than {} deep, {}.",
                                   atMostText(facts.job, Quantity::length, last_pass_mm), longer);
        const ProgramFacts& p = facts.programs[m.move.run];
        f.related.push_back({p.entry->file, shownPlace(p, placeOf(p.program.motions[m.move.move])),
                             several ? "the heaviest cut beside them" : "the heaviest cut beside it"});
      }};
  addPieceFindings(facts, tabs_overloaded_rule, pieces, findings);
}

}  // namespace tabs_overloaded

const Rule tabs_overloaded_rule{"tabs-overloaded", Level::look, "A part's tabs hold less than the cutter's push.",
                                tabs_overloaded::page, tabs_overloaded::check};

}  // namespace provecut
