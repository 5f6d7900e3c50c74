#include "report/base/wording.h"
#include "report/rules/list.h"
#include "report/rules/shared/piece_findings.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

A move after which a piece too small to matter as a part - less than 625 mm2 in plan, about 25 x 25 mm - hangs on nothing.

## Why it matters

A loose disc or strip larger than the bit can jam between bit and wall, break the bit or be thrown. Dust collection takes only the
smallest ones away.

## Example

A hole of 20 mm cut round its rim with a 6 mm bit, to full depth:

    G2 X10 Y0 I-7 J0

A disc of 8 mm is left and comes free here.

## What to do

Clear it out as a pocket, leave a tab or a thin skin under it, or stand ready to pause and take it away after this line.

## What `amount` is

The area of the piece in plan in mm2.

## Source

The limit of 625 mm2 is common practice, no source.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  addPieceFindings(
      facts, offcut_free_rule, "offcut", [](const Piece& p) { return p.free && isOffcut(p); },
      [&](const Piece& piece, Finding& f) {
        f.amount = piece.plan_area_mm2;
        f.unit = "mm2";
        if (!piece.held_before.empty()) {
          wordReleased(facts, "an offcut", piece, f);
          return;
        }
        f.message = "this move frees an offcut of " + sizeText(facts.job, piece.bounds.high - piece.bounds.low) +
                    " that nothing holds";
        f.help = "Cut its whole area away as a pocket, or leave a tab of at least " +
                 quantityText(facts.job, Quantity::area, facts.job.limits.min_tab_area_mm2) + " on it.";
      },
      findings);
}

}  // namespace

const Rule offcut_free_rule{"offcut-free", Level::look, "A cut frees a small piece that nothing holds.", page, check};

}  // namespace provecut
