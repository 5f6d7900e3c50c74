#include "report/base/wording.h"
#include "report/rules/list.h"
#include "report/rules/shared/piece_findings.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

A move after which a part of the stock hangs on nothing: no web of wood, no tab, no screw through it, no clamp on it, no tape under
it. The line is the very one that frees it. Pieces smaller in plan than 625 mm2 (about 25 x 25 mm) come under offcut-free; the
largest rest of the stock is never listed.

## Why it matters

A free part tilts into the spinning bit, jams, breaks it and flies.

## Example

A closed outline cut to full depth in an 18 mm stock, without tabs:

    G1 Z-18.2 F300
    G1 X100 F1200
    G1 Y60
    G1 X0
    G1 Y0

The last line closes the kerf and frees the part.

## What to do

Leave tabs or a thin skin, hold the part with a screw through waste or with tape, or clamp it before this line.

## What `amount` is

The area of the part in plan in mm2.

## Source

The limit of 625 mm2 is common practice, no source.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  addPieceFindings(
      facts, part_free_rule, "part", [](const Piece& p) { return p.free && !isOffcut(p); },
      [&](const Piece& piece, Finding& f) {
        f.amount = piece.plan_area_mm2;
        f.unit = "mm2";
        if (!piece.held_before.empty()) {
          wordReleased(facts, "a part", piece, f);
          return;
        }
        f.message = "this move frees a part of " + sizeText(facts.job, piece.bounds.high - piece.bounds.low) +
                    " that nothing holds";
        f.help = "Leave at least 2 tabs of " +
                 quantityText(facts.job, Quantity::area, facts.job.limits.min_tab_area_mm2) +
                 " each, or hold this part with tape, a clamp or a screw before this line.";
      },
      findings);
}

}  // namespace

const Rule part_free_rule{"part-free", Level::stop, "A cut frees a part that nothing holds.", page, check};

}  // namespace provecut
