#include <fmt/core.h>

#include <map>
#include <set>
#include <utility>

#include "report/base/wording.h"
#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/hold_down_advice.h"
#include "sim/clearance/tolerance.h"

namespace provecut {

namespace hold_down_close {

constexpr std::string_view page = R"(## What it finds

A part of the tool passes a hold-down closer than `limits.clearance`, but does not touch it. Where the same program
hits it too, hold-down-hit tells both.

## Why it matters

Nobody sets zero to the hundredth. A screw never sits exactly where it was drawn, and a clamp's knob sticks out. Half
a millimetre of air on paper can be a hit on the machine.

## Example

With `clearance = 3`, a 6 mm cutter and a 9 mm screw head at X 12 Y 12:

    G1 X20.5 Y12 F1200

The cutter's edge passes 1 mm from the head.

## What to do

Move the hold-down to the spot in the finding, remove it before this program, or retract higher over it. X and Y of
the spot count from the stock's front left corner in that setup, as `at` in the job file. If the gap is enough for
you, accept the finding and give your reason, or lower `limits.clearance`.

## What `amount` is

The clearance in mm: the shortest distance between the two bodies. For a group, the smallest.

## Source

Geometry. The 3 mm used without `limits.clearance` are common practice; no published source.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  const double min_mm = facts.job.limits.clearance_mm;
  for (std::size_t i = 0; i < facts.run.programs.size(); ++i) {
    std::set<int> hit;
    for (const Contact& c : facts.run.programs[i].contacts) hit.insert(c.hold_down);
    std::map<int, std::vector<const NearPass*>> by_hold_down;
    for (const NearPass& n : facts.run.programs[i].near_passes) {
      if (n.clearance_mm < min_mm - clearance::contact_tolerance_mm && !hit.contains(n.hold_down))
        by_hold_down[n.hold_down].push_back(&n);
    }
    for (const auto& [index, passes] : by_hold_down) {
      const HoldDown& hold_down = facts.job.hold_downs[index];
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
      const Compared text = comparedText(facts.job, Quantity::length, nearest->clearance_mm, min_mm);
      f.amount_text = text.actual;
      f.message =
          fmt::format("the {} clears {} by only {} (minimum {})",
                      partText(facts.job, nearest->part, nearest->attachment), hold_down.name, text.actual, text.limit);
      HoldDownAdvice advice = holdDownAdvice(facts, i, index, moves);
      f.help = std::move(advice.text);
      f.ways = std::move(advice.ways);
      relateToJob(facts, f, hold_down.place, hold_down.name + " is defined here");
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace hold_down_close

const Rule hold_down_close_rule{"hold-down-close", Level::look, "A part of the tool passes too close to a hold-down.",
                                hold_down_close::page, hold_down_close::check};

}  // namespace provecut
