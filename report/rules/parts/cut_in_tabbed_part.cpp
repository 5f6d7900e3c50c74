#include <fmt/core.h>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/piece_findings.h"
#include "sim/clearance/tolerance.h"

namespace provecut {

namespace cut_in_tabbed_part {

constexpr std::string_view page = R"(## What it finds

Holes, pockets or other cuts inside a part held only by its tabs: its outline was cut first. A part that a hold-down
or tape still holds is left out, and so is one on an onion skin that the same program cuts through later.

## Why it matters

The tabs now take all of the cutting force. The part chatters, tilts or breaks out under the bit.

## Example

First the outline, then the holes:

    (outline, four tabs)
    ...
    (dowel holes in the part)
    G81 X40 Y40 Z-12 R3 F600

## What to do

Cut the inside first and the outline last, or hold the part with tape or a clamp.

## What `amount` is

There is none. `moves` is the number of moves that cut inside the part.

## Source

Common practice; no published source.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.run.programs.size(); ++i) {
    for (const CutInTabbed& c : facts.run.programs[i].cuts_in_tabbed) {
      const int since = c.tabbed_since_run;
      const Piece& piece = facts.run.programs[since].pieces[c.piece];
      if (!heldByTabsAlone(piece)) continue;
      const std::vector<Motion>& motions = facts.programs[i].program.motions;
      Finding f = placeFinding(facts, i, cut_in_tabbed_part_rule, placeOf(motions[c.first]));
      f.last_line = std::max(f.last_line, motions[c.last].line);
      f.moves = c.moves;
      f.at = c.at;
      const std::string_view by = hasSkin(piece) ? "onion skin" : piece.tabs.size() == 1 ? "one tab" : "tabs";
      const Vec3 size = piece.bounds.high - piece.bounds.low;
      f.message = fmt::format("cuts inside {} {} held only by its {}", withArticle(sizeText(facts.job, size)),
                              pieceWord(piece), by);
      f.help = fmt::format("Cut the inside of the {0} before its outline, or hold the {0} with {1}.", pieceWord(piece),
                           otherHold(piece));
      const std::vector<Motion>& then = facts.programs[since].program.motions;
      if (piece.move < then.size()) {
        f.related.push_back(
            {facts.programs[since].entry->file, shownPlace(facts.programs[since], placeOf(then[piece.move])),
             fmt::format("from here on only its {} {} it", by, piece.tabs.size() == 1 ? "holds" : "hold")});
      }
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace cut_in_tabbed_part

const Rule cut_in_tabbed_part_rule{"cut-in-tabbed-part", Level::note,
                                   "A program cuts inside a part held only by its tabs.", cut_in_tabbed_part::page,
                                   cut_in_tabbed_part::check};

}  // namespace provecut
