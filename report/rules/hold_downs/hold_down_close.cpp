#include <map>

#include "report/base/wording.h"
#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/hold_down_advice.h"
#include "sim/clearance/tolerance.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

A move on which some part of the tool passes a standing hold-down nearer than `limits.clearance`, without touching it.

## Why it matters

Zero is never set to the hundredth, a screw is never quite where it was drawn, a clamp swells with its knob. What clears by half a
millimetre on paper may not clear on the machine.

## Example

With `clearance = 3`, a 6 mm cutter and a screw head of 9 mm at X 12 Y 12:

    G1 X20.5 Y12 F1200

The cutter's edge passes 1 mm from the head.

## What to do

Move the hold-down, start the program without it, or retract higher over it. Where the distance is good enough, accept the finding
with its reason or lower `limits.clearance`.

## What `amount` is

The clearance in mm: the shortest distance between the two bodies, the smallest over the group.

## Source

Geometry. The 3 mm that hold without `limits.clearance` are common practice, no source.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  const double wanted_mm = facts.job.limits.clearance_mm;
  for (std::size_t i = 0; i < facts.run.programs.size(); ++i) {
    std::map<int, std::vector<const NearPass*>> by_hold_down;
    for (const NearPass& n : facts.run.programs[i].near_passes) {
      if (n.clearance_mm < wanted_mm - clearance::contact_tolerance_mm) by_hold_down[n.hold_down].push_back(&n);
    }
    for (const auto& [index, passes] : by_hold_down) {
      const HoldDown& hold_down = facts.job.hold_downs[static_cast<std::size_t>(index)];
      const NearPass* nearest = passes.front();
      std::vector<Occurrence> occurrences;
      std::vector<std::uint32_t> moves;
      for (const NearPass* n : passes) {
        if (n->clearance_mm < nearest->clearance_mm) nearest = n;
        occurrences.push_back({n->move, n->clearance_mm, n->at});
        moves.push_back(n->move);
      }
      Finding f = groupFinding(facts, i, hold_down_close_rule, occurrences, Worst::smallest, Quantity::length);
      f.subject = hold_down.name;
      f.unit = "mm";
      const Compared text = comparedText(facts.job, Quantity::length, nearest->clearance_mm, wanted_mm);
      f.message = partText(facts.job, nearest->part, nearest->attachment) + " passes " + text.met + " from " +
                  hold_down.name + ", " + text.allowed + " wanted";
      f.help = holdDownAdvice(facts, i, index, moves);
      relateToJob(facts, f, hold_down.place, hold_down.name + " stands here");
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace

const Rule hold_down_close_rule{"hold-down-close", Level::look,
                                "A part of the tool passes a hold-down nearer than wanted.", page, check};

}  // namespace provecut
