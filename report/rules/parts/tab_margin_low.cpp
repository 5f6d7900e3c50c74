#include <fmt/core.h>

#include <algorithm>
#include <optional>

#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/piece_findings.h"
#include "report/rules/shared/tab_margin.h"
#include "report/rules/shared/weak_tabs.h"
#include "sim/clearance/tolerance.h"
#include "sim/tabs/tab_strength.h"

namespace provecut {

namespace tab_margin_low {

constexpr std::string_view page = R"(## What it finds

A part is held only by tabs. One tab alone holds less than the cutter's push (the side force of one tooth), or less than
twice the push where all tabs together hold less than four times the push. If all tabs together hold less than the push,
the part gets tabs-overloaded instead; its page says how both numbers are found. Tabs that tabs-weak already finds are
left out.

## Why it matters

The cutter pushes hardest on the tab next to it. Where the kerf runs along the grain, a tab holds about a twentieth of
what it holds where the kerf crosses the grain.

## Example

A tab of 8 × 3 mm across a 6 mm kerf along the grain of red oak holds 29 N. At 3 mm deep and 0.083 mm per tooth the
cutter's push is 12 N: a margin of 2.4. At 6 mm deep the margin is 1.2, and that is a note.

## What to do

Move such tabs to where the kerf crosses the grain, make them longer (twice as long holds four times the force), or
make the last pass thinner.

## What `amount` is

The force that the weakest tab holds alone, as a multiple of the cutter's push.

## Source

As tabs-overloaded. The minimum of 2, and of 4 for all, are our estimates.
)";

// The push comes on the tab next to the cutter; a stiff part shares it among its tabs. Both figures are right to half.
bool isLow(const TabMargin& m) {
  if (m.total() < 1) return false;  // tabs-overloaded tells that
  const double weakest = m.weakest() + clearance::contact_tolerance_mm;
  return weakest < 1 || (weakest < min_tab_margin && m.total() < 2 * min_tab_margin);
}

void word(const Facts& facts, const Piece& piece, Finding& f) {
  const Stock& stock = facts.job.stock;
  const TabMargin m = *tabMargin(facts, piece);
  const Tab& tab = *std::min_element(piece.tabs.begin(), piece.tabs.end(), [&](const Tab& a, const Tab& b) {
    return pieces::tabSideLoad_n(stock, a) < pieces::tabSideLoad_n(stock, b);
  });
  f.at = tab.at;
  f.amount = m.weakest();
  f.unit = "times";
  f.message = fmt::format("a tab {} long and {} thick holds {}, only {:.1f} times the cutter's push (minimum {:.0f})",
                          quantityText(facts.job, Quantity::length, tab.length_mm),
                          quantityText(facts.job, Quantity::length, tab.thickness_mm), tabForceText(m.weakest_n),
                          m.weakest(), min_tab_margin);
  if (tab.along_grain) f.message += "; its kerf runs along the grain";
  const bool wood = stock.material == Material::softwood || stock.material == Material::hardwood;
  f.help = tab.along_grain ? "Make this tab longer, or move it to where the kerf crosses the grain."
                           : "Make this tab longer or thicker.";
  if (wood && !stock.species) f.help += " Set `stock.species`: without it the weakest wood of its kind is assumed.";
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  const PieceRule pieces{[&](const Piece& p) {
                           if (!heldByTabsAlone(p) || hasThinTab(facts, p)) return false;
                           const auto margin = tabMargin(facts, p);
                           return margin && isLow(*margin);
                         },
                         {},
                         [&](const std::vector<const Piece*>& alike, Finding& f) { word(facts, *alike.front(), f); }};
  addPieceFindings(facts, tab_margin_low_rule, pieces, findings);
}

}  // namespace tab_margin_low

const Rule tab_margin_low_rule{"tab-margin-low", Level::note, "One tab alone holds less than twice the cutter's push.",
                               tab_margin_low::page, tab_margin_low::check};

}  // namespace provecut
