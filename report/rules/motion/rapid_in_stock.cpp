#include <fmt/core.h>

#include "report/base/dimension_text.h"
#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/height_advice.h"

namespace provecut {

namespace rapid_in_stock {

constexpr std::string_view page = R"(## What it finds

A rapid cuts into the stock, as the stock is at that moment.

## Why it matters

A rapid runs as fast as the machine can. In wood it breaks the bit, burns, or shifts the stock, and the machine loses
its position.

## Example

    G0 X20 Y20 Z5
    G0 Z-3
    G1 X80 F1200

The second rapid goes 3 mm into the stock.

## What to do

Retract before a sideways rapid. End a plunging rapid above the material, not on it, and go down from there at the
plunge feed. In a drilling cycle raise R. The finding gives the height.

## What `amount` is

How deep the rapid cuts in mm, the largest of the group.

## Source

Geometry of the cut.
)";

// Where to end a rapid that plunges into the material: above it by the clearance, since neither zero nor thickness is
// exact.
std::string downAdvice(const Facts& facts, std::size_t program, std::uint32_t move) {
  const double surface_z = facts.programs[program].program.motions[move].end.z +
                           static_cast<double>(cutOf(facts, program, move).axial_depth_mm);
  const double clearance_mm = facts.job.limits.clearance_mm;
  const std::string feed = "go down from there at the plunge feed";
  if (clearance_mm <= 0) {
    return fmt::format("End this rapid above {}, where the material begins, and {}.",
                       heightText(facts, program, surface_z), feed);
  }
  return fmt::format("End this rapid at {}, {} above the material, and {}.",
                     heightText(facts, program, surface_z + clearance_mm), dimensionWithUnit(facts.job, clearance_mm),
                     feed);
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ProgramFacts& program = facts.programs[i];
    std::vector<Occurrence> cutting;
    for (std::uint32_t m = 0; m < program.program.motions.size(); ++m) {
      const Motion& motion = program.program.motions[m];
      const MoveCut cut = cutOf(facts, i, m);
      if (motion.kind == MotionKind::rapid && cutsMaterial(cut)) cutting.push_back({m, cut.bite_mm, lowestTip(motion)});
    }
    if (cutting.empty()) continue;
    Finding f = groupFinding(facts, i, rapid_in_stock_rule, cutting, Worst::largest, Quantity::length);
    const Motion& first = program.program.motions[cutting.front().move];
    const bool down = !goesSideways(first) && first.end.z < first.start.z;
    f.message = fmt::format("rapid {} {}{} into the stock", down ? "plunges" : "cuts", upTo(f),
                            quantityText(facts.job, Quantity::length, *f.amount));
    const double clear_z = stockTopZ(facts, *program.setup) + facts.job.limits.clearance_mm;
    if (first.flags & motion_in_cycle) {
      f.help = sentence(raiseRText(facts, i, clear_z));
    } else if (down) {
      f.help = downAdvice(facts, i, cutting.front().move);
    } else {
      f.help = fmt::format("Retract to {} before this move.", heightText(facts, i, clear_z));
    }
    findings.push_back(std::move(f));
  }
}

}  // namespace rapid_in_stock

const Rule rapid_in_stock_rule{"rapid-in-stock", Level::stop, "A rapid cuts into the stock.", rapid_in_stock::page,
                               rapid_in_stock::check};

}  // namespace provecut
