#include <fmt/core.h>

#include <algorithm>

#include "report/base/wording.h"
#include "report/rules/list.h"
#include "report/rules/shared/piece_findings.h"

namespace provecut {

namespace offcut_free {

constexpr std::string_view page = R"(## What it finds

A move cuts an offcut loose, a piece under 625 mm² in plan (about 25 × 25 mm), and nothing holds it. Crumbs are left
out: under 4 mm² in plan, or narrower than 0.75 mm everywhere; sliver-standing tells of thin walls and posts among
them. A piece smaller both ways than the bit that cuts it off, which does not come back to it, mostly goes with the
chips: such as the tip between lead-in and lead-out. It is a note. As in part-free, the finding says what the bit does
next. An offcut that is milled away later counts too. Tape holds it if the patch is at least
5 × 5 mm; if every bit is under 2.5 mm wide, twice the widest bit each way is enough. If the patch is smaller, the
finding says how much tape there is.
Offcuts of one size that come loose in one way, such as the waste of equal openings, are one finding.

The frame of waste counts too: all of the stock's edge, cut free of a part inside that something holds. The part must
have 625 mm² and a tenth of the frame's area. Else what comes loose is taken for a part: part-free.

## Why it matters

A loose disc or strip larger than the bit can jam between bit and wall, break the bit or be thrown. Dust extraction
takes only the smallest away.

## Example

A 20 mm hole, cut round its rim with a 6 mm bit to full depth:

    G2 X10 Y0 I-7 J0

An 8 mm disc comes loose here.

## What to do

Clear it out as a pocket, or leave a tab or a thin skin under it. Or stop the program and the spindle after this line
(M5 M0) and remove the offcut there.

## What `amount` is

The area of the offcut in plan in mm².

## Source

The limit of 625 mm² is common practice; no published source.
)";

// A tab of the wanted area must not be longer than the offcut, nor have more wood than half of it.
bool hasRoomForTab(const Job& job, const Piece& piece) {
  const auto size = piece.bounds.high - piece.bounds.low;
  return job.limits.min_tab_area_mm2 <= std::max(size.x, size.y) * size.z / 2 &&
         job.limits.min_tab_area_mm2 <= piece.plan_area_mm2 / 2;
}

// Smaller than the bit that cuts it off, which does not come back to it: it mostly goes with the chips.
bool isSweptAway(const Piece& piece) {
  const auto size = piece.bounds.high - piece.bounds.low;
  return std::max(size.x, size.y) < piece.cutter_mm && piece.cut_loose.empty();
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  const std::string tab = atLeastText(facts.job, Quantity::area, facts.job.limits.min_tab_area_mm2);
  const auto help = [&](const Piece& piece) {
    const std::string clear = piece.milled ? "Clear the inside first and the rim last" : "Clear it out as a pocket";
    return hasRoomForTab(facts.job, piece) ? fmt::format("{}, or leave a tab of at least {} on it.", clear, tab)
                                           : fmt::format("{}, or leave a thin skin under it.", clear);
  };
  const auto add = [&](bool swept_away) {
    addLoosePieces(
        facts, offcut_free_rule, "offcut", [&](const Piece& p) { return isWaste(p) && isSweptAway(p) == swept_away; },
        help, findings);
  };
  add(false);
  const std::size_t before = findings.size();
  add(true);
  for (std::size_t i = before; i < findings.size(); ++i) findings[i].level = Level::note;
}

}  // namespace offcut_free

const Rule offcut_free_rule{"offcut-free", Level::look, "A move cuts an offcut loose; nothing holds it.",
                            offcut_free::page, offcut_free::check};

}  // namespace provecut
