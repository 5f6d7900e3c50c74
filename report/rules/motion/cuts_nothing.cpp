#include <algorithm>
#include <cmath>
#include <limits>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "sim/clearance/tolerance.h"
#include "sim/path/motion_extent.h"
#include "sim/path/setup_frame.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

A program that feeds with the spindle turning and takes nothing at all from the stock: it stays above it, beside it, or runs where
earlier programs, from this side or the other, have taken everything already.

## Why it matters

The zero is wrong (a touch plate's thickness put in twice), the wrong file was named, or the front's program runs on the back.

## Example

    G0 Z12
    G1 X100 F1500
    G1 Y40

Everything happens 12 mm above the stock.

## What to do

Check which file, which side and which zero this program was written for.

## What `amount` is

How far it stays above the stock, or beside it, in mm; none where it runs in what is cut already.

## Source

Common practice, no source.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.programs.size() && i < facts.run.programs.size(); ++i) {
    const ProgramFacts& p = facts.programs[i];
    const std::vector<Motion>& motions = p.program.motions;
    const Vec3 size = stockSizeInSetup(facts.job.stock, *p.setup);
    const Motion* first = nullptr;
    std::uint32_t feeds = 0;
    bool known = true, cuts = false;
    double lowest_z = std::numeric_limits<double>::infinity(), beside_mm = std::numeric_limits<double>::infinity();
    for (std::uint32_t m = 0; m < motions.size() && known && !cuts; ++m) {
      const Motion& motion = motions[m];
      cuts = cutOf(facts, i, m).removed_mm3 > 0;
      if ((motion.kind != MotionKind::feed && !isArc(motion)) || motion.spindle == Spindle::off) continue;
      const Tool* tool = findTool(facts.job, motion.tool);
      known = tool != nullptr;
      if (!known) break;
      if (!first) first = &motion;
      ++feeds;
      const SetupBox box = workToSetup(*p.setup, motionExtent(motion));
      const SetupPoint low = box.low, high = box.high;
      lowest_z = std::min(lowest_z, low.z - size.z);
      const double dx = std::max({0.0, -high.x, low.x - size.x}), dy = std::max({0.0, -high.y, low.y - size.y});
      beside_mm = std::min(beside_mm, std::hypot(dx, dy) - tool->diameter_mm / 2);
    }
    if (!known || cuts || !first) continue;
    Finding f = placeFinding(facts, i, cuts_nothing_rule, placeOf(*first));
    f.moves = feeds;
    f.at = first->end;
    f.last_line = std::max(f.last_line, motions.back().line);
    f.message = "this program takes nothing from the stock: ";
    if (lowest_z > -clearance::contact_tolerance_mm) {
      f.amount = std::max(0.0, lowest_z);
      f.unit = "mm";
      f.message += "it never comes lower than " + quantityText(facts.job, Quantity::length, *f.amount) + " above it";
      f.help = "Check the Z zero, and that this is the program meant.";
    } else if (beside_mm > -clearance::contact_tolerance_mm) {
      f.amount = std::max(0.0, beside_mm);
      f.unit = "mm";
      f.message += "it stays " + quantityText(facts.job, Quantity::length, *f.amount) + " or more beside it";
      f.help = "Check the X and Y zero, the stock's size, and that this is the program meant.";
    } else {
      f.message += "where it runs, earlier programs have cut everything away";
      f.help = "Check that this is the program meant, for this side of the stock.";
    }
    findings.push_back(std::move(f));
  }
}

}  // namespace

const Rule cuts_nothing_rule{"cuts-nothing", Level::look,
                             "A program runs its cuts in the air from its first line to its last.", page, check};

}  // namespace provecut
