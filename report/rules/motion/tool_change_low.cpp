#include <fmt/core.h>

#include <algorithm>
#include <optional>
#include <vector>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/height_advice.h"
#include "report/rules/shared/lift_advice.h"
#include "report/rules/shared/touching.h"
#include "sim/clearance/tolerance.h"
#include "sim/path/setup_frame.h"
#include "sim/path/stock_plan.h"

namespace provecut {

namespace tool_change_low {

constexpr std::string_view page = R"(## What it finds

A tool change or program stop (M0, M1, M60) with the tip below the highest hold-down, or below the top of the stock if
that is higher. Also a second M6 down on the stock: the program takes the new bit down to the stock before anybody has
set its length, and calls M6 again there.

## Why it matters

There is no room to change the bit. Whoever jogs the machine meanwhile drags the bit through stock and clamps, and the
next move may start sideways from down there.

## Example

A clamp reaches 15 mm above the stock:

    G0 Z5
    T2 M6

## What to do

Retract to the height in the finding before the change or stop.

## What `amount` is

How far the tip is below that top in mm, the largest of the group.

## Source

Geometry.
)";

// True where the move comes down over the stock and ends on its top.
bool downToStock(const Facts& facts, const ProgramFacts& p, const Motion& m) {
  const double above = m.end.z - stockTopZ(facts, *p.setup);
  // A zero on the corner counts.
  const SetupPoint2 at = flat(workToSetup(*p.setup, m.end));
  const bool over = beyondEdge_mm(stockPlan(facts.job.stock, *p.setup), at) <= touching_mm;
  return m.end.z < m.start.z && above < touching_mm && over;
}

Finding lengthNotSet(const Facts& facts, std::size_t i, const std::vector<const Event*>& again) {
  const ProgramFacts& p = facts.programs[i];
  const Motion& down = p.program.motions[again.front()->before_motion - 1];
  Finding f = placeFinding(facts, i, tool_change_low_rule, placeOf(down));
  f.at = down.end;
  f.moves = static_cast<std::uint32_t>(again.size());
  f.last_line = again.back()->place.line;
  f.amount = 0;
  f.unit = "mm";
  f.message = "the new bit goes down to the stock before its length is set, and M6 is called again there";
  f.help = fmt::format("Set the new bit's length after the first M6. Then stay at {} or higher at the second M6.",
                       heightText(facts, i, stockTopZ(facts, *p.setup) + facts.job.limits.clearance_mm));
  return f;
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ProgramFacts& p = facts.programs[i];
    const Highest highest = highestStanding(facts, p);
    std::optional<Finding> found;
    const Event* changed = nullptr;   // the last tool change
    std::vector<const Event*> again;  // those on the stock, with the bit just changed
    for (const Event& e : p.program.events) {
      const bool change = e.kind == EventKind::tool_change;
      if (!change && e.kind != EventKind::stop && e.kind != EventKind::optional_stop) continue;
      // Before the first move the position of the tool is not known.
      if (e.before_motion == 0 || e.before_motion > p.program.motions.size()) continue;
      const Motion& before = p.program.motions[e.before_motion - 1];
      const double below = highest.z - before.end.z;
      if (change && below <= clearance::contact_tolerance_mm && downToStock(facts, p, before) && changed &&
          changed->before_motion < e.before_motion) {
        again.push_back(&e);
      }
      if (change) changed = &e;
      if (below <= clearance::contact_tolerance_mm) continue;
      if (!found) {
        found = placeFinding(facts, i, tool_change_low_rule, e.place);
        found->at = before.end;
        found->amount = below;
        found->unit = "mm";
        found->subject = highest.hold_down ? highest.hold_down->name : "";
        found->amount_text = quantityText(facts.job, Quantity::length, below);
        found->message = fmt::format("{} with the tip {} below the top of {}", change ? "tool change" : "program stop",
                                     found->amount_text, highest.hold_down ? highest.hold_down->name : "the stock");
        const double up_z = highest.z + facts.job.limits.clearance_mm + reachBelowTip(facts, before.tool);
        found->help = fmt::format("Retract to {} first.", heightText(facts, i, up_z));
        found->ways = {{{ChangeKind::retract_before, up_z, {}, 0, -1, {}}}};
        if (highest.hold_down)
          relateToJob(facts, *found, highest.hold_down->place, highest.hold_down->name + " is defined here");
      }
      ++found->moves;
      found->ways[0][0].lines.push_back(e.place.line);
      found->amount = std::max(*found->amount, below);
      found->last_line = std::max(found->last_line, e.place.line);
    }
    if (found) findings.push_back(std::move(*found));
    if (!again.empty()) findings.push_back(lengthNotSet(facts, i, again));
  }
}

}  // namespace tool_change_low

const Rule tool_change_low_rule{"tool-change-low", Level::look, "A tool change or program stop with the tip too low.",
                                tool_change_low::page, tool_change_low::check};

}  // namespace provecut
