#include <fmt/core.h>

#include <algorithm>

#include "report/base/dimension_text.h"
#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "sim/clearance/tolerance.h"
#include "sim/path/motion_extent.h"

namespace provecut {

namespace first_pass_shallow {

constexpr std::string_view page = R"(## What it finds

A compression bit (a tool with `up_cut_length`) cuts the stock's top face in a pass shallower than its up-cut tip.
Ramps down into the cut are left out.

## Why it matters

Above its up-cut tip a compression bit cuts downwards and leaves a clean edge. A shallow pass uses the tip alone and
tears the top face.

## Example

A compression bit with `up_cut_length = 8`, zero on top:

    G1 X200 Z-4 F3000

## What to do

Make the first pass deeper than the up-cut tip. For a cut that is to be shallower, such as a dado, use a down-cut bit.

## What `amount` is

The depth of the shallowest such pass in mm.

## Source

Common practice; no published source.
)";

// How much of the first stretch the second one shares, at most all of it; all of a stretch without length.
double sharedPart(double low, double high, double other_low, double other_high) {
  if (high - low < 1e-3) return other_low <= high && other_high >= low ? 1 : 0;
  return std::max(0.0, std::min(high, other_high) - std::max(low, other_low)) / (high - low);
}

// True where nothing goes deeper along most of the move later on: a dado, not the first pass of a cut.
bool isWholeCut(const Program& program, std::uint32_t move) {
  const Motion& cut = program.motions[move];
  const WorkBox box = motionExtent(cut);
  return std::none_of(program.motions.begin() + move + 1, program.motions.end(), [&](const Motion& m) {
    if (!moves(m) || m.kind == MotionKind::rapid || lowestTip(m).z >= lowestTip(cut).z - 1e-3) return false;
    const WorkBox other = motionExtent(m);
    return sharedPart(box.low.x, box.high.x, other.low.x, other.high.x) >= 0.5 &&
           sharedPart(box.low.y, box.high.y, other.low.y, other.high.y) >= 0.5;
  });
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.programs.size() && i < facts.run.programs.size(); ++i) {
    const ProgramFacts& p = facts.programs[i];
    const double top = stockTopZ(facts, *p.setup);
    std::vector<Occurrence> shallow;
    const Tool* at_fault = nullptr;
    for (std::uint32_t m = 0; m < p.program.motions.size(); ++m) {
      const Motion& motion = p.program.motions[m];
      const MoveCut cut = cutOf(facts, i, m);
      if (motion.kind == MotionKind::rapid || !goesSideways(motion) || !cutsMaterial(cut)) continue;
      if (motion.end.z < motion.start.z - clearance::contact_tolerance_mm) continue;  // a ramp
      const Tool* tool = findTool(facts.job, motion.tool);
      if (!tool || !tool->up_cut_length_mm) continue;
      const double depth = cut.axial_depth_mm, tip = lowestTip(motion).z;
      if (tip + depth < top - 1e-3 || depth >= *tool->up_cut_length_mm - 1e-3) continue;
      shallow.push_back({m, depth, motion.start});
      at_fault = tool;
    }
    if (shallow.empty()) continue;
    Finding f = groupFinding(facts, i, first_pass_shallow_rule, shallow, Worst::smallest, Quantity::length);
    f.subject = toolText(facts.job, at_fault->number);
    const double tip_mm = *at_fault->up_cut_length_mm;
    const Compared depth = comparedText(facts.job, Quantity::length, *f.amount, tip_mm);
    f.amount_text = depth.actual;
    f.message = fmt::format("the first pass of {} is {} deep (minimum {}, the length of its up-cut tip)", f.subject,
                            depth.actual, depth.limit);
    const bool too_deep = at_fault->max_stepdown_mm && *at_fault->max_stepdown_mm <= tip_mm;
    const bool whole =
        std::all_of(shallow.begin(), shallow.end(), [&](const Occurrence& o) { return isWholeCut(p.program, o.move); });
    f.help = whole ? "This cut is no deeper than the up-cut tip: use a down-cut bit for it."
             : too_deep
                 ? fmt::format("Not possible with this bit: its max_stepdown is {}. Use a down-cut bit for this pass.",
                               dimensionWithUnit(facts.job, *at_fault->max_stepdown_mm))
                 : fmt::format("Make the first pass deeper than {}.", dimensionWithUnit(facts.job, tip_mm));
    findings.push_back(std::move(f));
  }
}

}  // namespace first_pass_shallow

const Rule first_pass_shallow_rule{"first-pass-shallow", Level::note,
                                   "A compression bit cuts the top face with its up-cut tip alone.",
                                   first_pass_shallow::page, first_pass_shallow::check};

}  // namespace provecut
