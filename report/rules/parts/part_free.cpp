#include <fmt/core.h>

#include "report/base/wording.h"
#include "report/rules/list.h"
#include "report/rules/shared/piece_findings.h"

namespace provecut {

namespace part_free {

constexpr std::string_view page = R"(## What it finds

A move cuts a part loose and nothing holds it: no web, no tab, no screw through it, no clamp on it, no tape, glue or
vacuum under it (stock-unheld tells what counts). A vise holds the rim of the stock, not a part cut out of it. The
finding names the line that cuts it loose, even if the part is milled away or cut up later, and tells what the bit
does next: cut into it, or beside it. Milling away the tape or the wood under a screw's head counts too. A patch of tape
counts from 5 × 5 mm, or twice as wide as the widest bit where that is less. A dust shoe that presses on the part does
not hold it. Offcuts, under 625 mm² in plan (about 25 × 25 mm), get offcut-free instead; crumbs under 4 mm² or narrower
than 0.75 mm everywhere are left out. A loose frame of waste round a part that a screw or clamp holds gets offcut-free
too: it runs all round the stock's edge. The rest of the stock is not listed.

## Why it matters

A loose part tilts into the spinning bit, jams, breaks it and flies.

## Example

A closed outline cut to full depth in 18 mm stock, without tabs:

    G1 Z-18.2 F300
    G1 X100 F1200
    G1 Y60
    G1 X0
    G1 Y0

The last line closes the kerf and cuts the part loose.

## What to do

Leave tabs or a thin skin. Or hold the part itself with tape, a clamp or a screw through it, fitted before the program
starts. The waste of an opening looks like a part too: clear it out as a pocket.

## What `amount` is

The area of the part in plan in mm².

## Source

The limit of 625 mm² is common practice; the patch of tape and the size of a crumb are our estimates; no published
source.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  const std::string help = fmt::format(
      "Leave at least 2 tabs of {} each. Or, before you start the program, fit tape, a clamp or a screw that "
      "holds this part. If it is waste, clear it out as a pocket.",
      atLeastText(facts.job, Quantity::area, facts.job.limits.min_tab_area_mm2));
  std::string pressed;
  for (const SpindleAttachment& a : facts.job.spindle_attachments)
    pressed += " " + sentence(a.name + " may press on it, but does not hold it");
  addLoosePieces(
      facts, part_free_rule, "part", [](const Piece& p) { return !isWaste(p); },
      [&](const Piece&) { return help + pressed; }, findings);
}

}  // namespace part_free

const Rule part_free_rule{"part-free", Level::stop, "A move cuts a part loose; nothing holds it.", part_free::page,
                          part_free::check};

}  // namespace provecut
