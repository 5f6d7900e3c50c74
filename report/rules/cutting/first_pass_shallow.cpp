#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "sim/clearance/tolerance.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

A pass of a compression bit (a tool with `up_cut_length`) along the stock's top face that is shallower than the part of the bit which
cuts upwards. Ways down into the cut are left out.

## Why it matters

Above its up-cut tip a compression bit cuts downwards and leaves a clean edge; a shallow pass works with the tip alone and tears the
top face.

## Example

A compression bit with `up_cut_length = 8`, zero on top:

    G1 X200 Z-4 F3000

## What to do

Let the first pass be deeper than the up-cut tip, or use a down-cut bit for it.

## What `amount` is

The depth of the shallowest such pass in mm.

## Source

Common practice, no source.
)";

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
      const double depth = static_cast<double>(cut.axial_depth_mm), tip = lowestTip(motion).z;
      if (tip + depth < top - 1e-3 || depth >= *tool->up_cut_length_mm - 1e-3) continue;
      shallow.push_back({m, depth, motion.start});
      at_fault = tool;
    }
    if (shallow.empty()) continue;
    Finding f = groupFinding(facts, i, first_pass_shallow_rule, shallow, Worst::smallest, Quantity::length);
    f.unit = "mm";
    f.subject = at_fault->name;
    const Compared depth = comparedText(facts.job, Quantity::length, *f.amount, *at_fault->up_cut_length_mm);
    f.message =
        "the compression bit cuts the top face " + depth.met + " deep; its up-cut tip is " + depth.allowed + " long";
    f.help = "Make the first pass deeper than " + depth.allowed + ".";
    findings.push_back(std::move(f));
  }
}

}  // namespace

const Rule first_pass_shallow_rule{"first-pass-shallow", Level::note,
                                   "A compression bit cuts the top face with its up-cut tip alone.", page, check};

}  // namespace provecut
