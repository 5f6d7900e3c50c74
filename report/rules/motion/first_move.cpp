#include <cmath>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "sim/clearance/tolerance.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

A program whose first sideways move comes before it has set a height, or at a height that does not clear the highest standing
hold-down by `limits.clearance`. Where the tool stands when the program starts nobody knows, so that the way of this move may lead
over, or through, any of them.

## Why it matters

The bit is left low after zeroing, or after the program before; the first rapid then drags it through a clamp.

## Example

    G21 G90
    G0 X20 Y20
    G0 Z40

## What to do

Let the program begin with a rapid up to the height that the finding names, alone on its line.

## What `amount` is

The height of the first sideways move above the highest thing that stands, in mm; none where no height is set.

## Source

Common practice, no source.
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
      const std::string z = zAtLeastText(facts.job, wanted_z);
      if (at_unknown_height) {
        f.message = "first move goes sideways before any height is set: the tool starts from wherever it stands";
      } else {
        f.subject = highest.hold_down->name;
        f.amount = m.end.z - highest.z;
        f.unit = "mm";
        const Compared height =
            comparedText(facts.job, Quantity::length, std::fabs(*f.amount), facts.job.limits.clearance_mm);
        f.message = "first move goes sideways from an unknown place, " + height.met +
                    (*f.amount < 0 ? " below" : " above") + " the top of " + f.subject + "; " + height.allowed +
                    " above it wanted";
        relateToJob(facts, f, highest.hold_down->place, f.subject + " stands here");
      }
      f.help = "Begin with a rapid to " + z + " or higher, alone on its line.";
      findings.push_back(std::move(f));
      break;
    }
  }
}

}  // namespace

const Rule first_move_rule{"first-move", Level::look,
                           "The first move goes sideways at a height that is not known or too low.", page, check};

}  // namespace provecut
