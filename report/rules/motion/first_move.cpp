#include <fmt/core.h>

#include <cmath>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/height_advice.h"
#include "report/rules/shared/lift_advice.h"
#include "sim/clearance/tolerance.h"

namespace provecut {

namespace first_move {

constexpr std::string_view page = R"(## What it finds

The first sideways move of a program comes before any Z height is set, or at a height that does not clear the highest
hold-down by `limits.clearance`. Nobody knows where the tool is when the program starts, so this move may hit any of
them.

## Why it matters

After zeroing, or after the last program, the bit is often left low. The first rapid then drags it through a clamp.

## Example

    G21 G90
    G0 X20 Y20
    G0 Z40

## What to do

Put a rapid up to the height in the finding on its own line, after G90 and the unit and before the first sideways
move.

## What `amount` is

The height of the first sideways move above the highest obstacle in mm. There is none if no height is set.

## Source

Common practice; no published source.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ProgramFacts& p = facts.programs[i];
    const std::vector<Motion>& motions = p.program.motions;
    const Highest highest = highestStanding(facts, p);
    const double wanted_z = highest.z + facts.job.limits.clearance_mm;
    bool height_set = false;
    for (const Motion& m : motions) {
      if (!(m.flags & motion_start_unknown)) break;
      if (!moves(m)) continue;
      if (m.flags & motion_machine_frame) {
        height_set |= m.start.z != m.end.z || (m.flags & motion_height_unknown);
        continue;
      }
      const bool names_height = m.start.z != m.end.z;
      // A move to X0 Y0 ends where the start was assumed: it goes sideways all the same.
      const bool sideways = goesSideways(m) || !names_height;
      if (!sideways) {
        height_set = true;
        continue;
      }
      const bool at_unknown_height = !height_set;
      const bool low = m.end.z < wanted_z - clearance::contact_tolerance_mm;
      if (!at_unknown_height && (!low || !highest.hold_down)) break;
      Finding f = placeFinding(facts, i, first_move_rule, placeOf(m));
      f.moves = 1;
      f.at = m.end;
      if (at_unknown_height) {
        f.message = "the first move is sideways from wherever the tool happens to be; no height is set yet";
      } else {
        f.subject = highest.hold_down->name;
        f.amount = m.end.z - highest.z;
        f.unit = "mm";
        const Compared height =
            comparedText(facts.job, Quantity::length, std::fabs(*f.amount), facts.job.limits.clearance_mm);
        f.message = fmt::format("the first move is sideways from wherever the tool happens to be, {} {} the top of {}",
                                height.actual, *f.amount < 0 ? "below" : "above", f.subject);
        if (*f.amount >= 0) f.message += fmt::format(" (minimum {})", height.limit);
        relateToJob(facts, f, highest.hold_down->place, f.subject + " is defined here");
      }
      const double up_z = wanted_z + reachBelowTip(facts, m.tool);
      f.help = fmt::format("Put {} or higher on its own line before this one{}.", rapidUpText(facts, i, up_z),
                           names_height && low ? ", and go down only after it" : "");
      f.ways.push_back({{ChangeKind::cross_at, up_z, {m.line}, 0, -1, {}}});
      findings.push_back(std::move(f));
      break;
    }
  }
}

}  // namespace first_move

const Rule first_move_rule{"first-move", Level::look, "The first sideways move is at an unknown height, or too low.",
                           first_move::page, first_move::check};

}  // namespace provecut
