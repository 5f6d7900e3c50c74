#include <fmt/core.h>

#include <algorithm>
#include <limits>

#include "report/base/dimension_text.h"
#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "sim/clearance/obstacle.h"
#include "sim/path/setup_frame.h"

namespace provecut {

namespace thin_stock_lift {

constexpr std::string_view page = R"(## What it finds

Cuts in stock thinner than 6 mm, more than 75 mm from every hold-down fitted, tape included. Bits with straight or
down-cutting edges (vee, surfacing, form and compression bits) are left out.

## Why it matters

An up-cut bit pulls the sheet up between its clamps. The sheet bows and flutters, and is cut too deep.

## Example

A 3 mm sheet, 400 mm long, clamped at both ends, with a slot across its middle.

## What to do

Put tape or a screw nearer to this cut, or use a down-cut bit.

## What `amount` is

The largest distance from a cut to the nearest hold-down in mm.

## Source

Our estimate.
)";

constexpr double thin_mm = 6, far_mm = 75;

bool pullsUp(const Tool& tool) {
  switch (tool.shape) {
    case ToolShape::flat:
    case ToolShape::ball:
    case ToolShape::bull:
    case ToolShape::taper_ball:
      return !tool.up_cut_length_mm;
    case ToolShape::vee:
    case ToolShape::drill:
    case ToolShape::surfacing:
    case ToolShape::form:
      return false;
  }
  return false;
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  if (facts.job.stock.size_mm.z >= thin_mm) return;
  for (std::size_t i = 0; i < facts.programs.size() && i < facts.run.programs.size(); ++i) {
    const ProgramFacts& p = facts.programs[i];
    std::vector<clearance::Obstacle> holding;
    for (const int h : standing(p)) {
      const HoldDown& hold_down = facts.job.hold_downs[h];
      if (hold_down.kind != HoldDownKind::pin && !gripsEdges(hold_down.kind))
        holding.push_back(clearance::obstacle(hold_down, facts.job.stock.size_mm.z));
    }
    if (holding.empty()) continue;  // not said what holds it: stock-unheld, or a vacuum table
    std::vector<Occurrence> far;
    for (std::uint32_t m = 0; m < p.program.motions.size(); ++m) {
      const Motion& motion = p.program.motions[m];
      if (motion.kind == MotionKind::rapid || !cutsMaterial(cutOf(facts, i, m))) continue;
      const Tool* tool = findTool(facts.job, motion.tool);
      if (!tool || !pullsUp(*tool)) continue;
      for (const WorkPoint at : {motion.start, middle(motion.start, motion.end), motion.end}) {
        if (!overStock(facts, *p.setup, at)) continue;
        double nearest = std::numeric_limits<double>::infinity();
        for (const clearance::Obstacle& o : holding)
          nearest = std::min(nearest, clearance::distance(o, flat(workToSetup(*p.setup, at))));
        if (nearest > far_mm) far.push_back({m, nearest, at});
      }
    }
    if (far.empty()) continue;
    Finding f = groupFinding(facts, i, thin_stock_lift_rule, far, Worst::largest, Quantity::length);
    f.amount_text = longLengthText(facts.job, *f.amount);
    f.message = fmt::format("an up-cut bit may lift this {} stock: it cuts {}{} from the nearest hold-down",
                            dimensionWithUnit(facts.job, facts.job.stock.size_mm.z), upTo(f), f.amount_text);
    f.help = fmt::format("Hold the stock within {} of this cut, with tape for example, or use a down-cut bit.",
                         dimensionWithUnit(facts.job, far_mm));
    findings.push_back(std::move(f));
  }
}

}  // namespace thin_stock_lift

const Rule thin_stock_lift_rule{"thin-stock-lift", Level::note, "Thin stock is cut far from its hold-downs.",
                                thin_stock_lift::page, thin_stock_lift::check};

}  // namespace provecut
