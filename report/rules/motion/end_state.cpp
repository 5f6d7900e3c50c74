#include <fmt/core.h>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/height_advice.h"
#include "sim/clearance/tolerance.h"

namespace provecut {

namespace end_state {

constexpr std::string_view page = R"(## What it finds

A program ends with the spindle on (no M5, M2 or M30 after its last move), or with the tip below the highest
hold-down, or below the top of the stock if that is higher. A spindle that you switch by hand (`spindle = "by-hand"`) is
yours to stop.

## Why it matters

You walk up to a spinning bit. The next rapid, or homing, then drags the bit through stock and clamps.

## Example

The last line of the program is

    G1 X80 F1200

## What to do

End with a retract, M5 and M30.

## What `amount` is

How far the tip is below that top in mm. There is none if only the spindle is left on.

## Source

NISTIR 6556 3.6.1: M2 and M30 stop the spindle. Ending high is common practice; no published source.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ProgramFacts& p = facts.programs[i];
    const std::vector<Motion>& motions = p.program.motions;
    if (motions.empty()) continue;
    const Motion& last = motions.back();
    bool turning = last.spindle != Spindle::off && !facts.job.machine.spindle_by_hand;
    for (const Event& e : p.program.events) {
      if (e.before_motion < motions.size()) continue;
      if (e.kind == EventKind::spindle_stop || e.kind == EventKind::end) turning = false;
      if (e.kind == EventKind::spindle_start) turning = true;
    }
    const Highest highest = highestStanding(facts, p);
    const double below = highest.z - last.end.z;
    const bool low = below > clearance::contact_tolerance_mm;
    if (!turning && !low) continue;
    Finding f = placeFinding(facts, i, end_state_rule, placeOf(last));
    f.at = last.end;
    f.moves = 1;
    std::vector<std::string> wrong, todo;
    if (low) {
      f.amount = below;
      f.unit = "mm";
      f.amount_text = quantityText(facts.job, Quantity::length, below);
      wrong.push_back(fmt::format("the tip {} below the top of {}", f.amount_text,
                                  highest.hold_down ? highest.hold_down->name : "the stock"));
      todo.push_back(rapidUpText(facts, i, highest.z + facts.job.limits.clearance_mm) + " or higher");
    }
    if (turning) {
      wrong.push_back("the spindle on");
      todo.push_back("M5");
    }
    f.message = "the program ends with " + listText(wrong);
    if (turning) todo.push_back("M30");
    f.help = "End it with " + listText(todo) + ".";
    findings.push_back(std::move(f));
  }
}

}  // namespace end_state

const Rule end_state_rule{"end-state", Level::note, "The program ends low, or with the spindle on.", end_state::page,
                          end_state::check};

}  // namespace provecut
