#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "report/base/dimension_text.h"
#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/height_advice.h"
#include "report/rules/shared/rapid_cut.h"

namespace provecut {

namespace rapid_in_stock {

constexpr std::string_view page = R"(## What it finds

A rapid cuts into the stock, as the stock is at that moment. The message tells how deep, how wide and how large the cut
is across its way; of a plunge, how large it is seen from above. What only brushes the leavings of earlier cuts is
rapid-grazes'.

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
  // Depths are kept in single precision: to the micrometre they are as the program wrote them.
  const double surface_z = std::round((facts.programs[program].program.motions[move].end.z +
                                       static_cast<double>(cutOf(facts, program, move).axial_depth_mm)) *
                                      1000) /
                           1000;
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

// "6 mm wide, 18 mm² in section"; of plunges and steep rapids "28 mm² in plan".
std::string sizeOf(const Job& job, const std::vector<RapidCut>& cuts) {
  RapidCut largest;
  for (const RapidCut& cut : cuts) {
    largest.area_mm2 = std::max(largest.area_mm2, cut.area_mm2);
    largest.width_mm = std::max(largest.width_mm, cut.width_mm);
  }
  const std::string area = quantityText(job, Quantity::area, largest.area_mm2);
  if (largest.width_mm <= 0) return area + " in plan";
  return fmt::format("{} wide, {} in section", quantityText(job, Quantity::length, largest.width_mm), area);
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ProgramFacts& program = facts.programs[i];
    std::vector<Occurrence> cutting;
    std::vector<RapidCut> cuts = rapidCuts(facts, i);
    std::erase_if(cuts, [](const RapidCut& cut) { return cut.graze; });
    for (const RapidCut& cut : cuts)
      cutting.push_back({cut.move, cut.depth_mm, lowestTip(program.program.motions[cut.move])});
    if (cutting.empty()) continue;
    Finding f = groupFinding(facts, i, rapid_in_stock_rule, cutting, Worst::largest, Quantity::length);
    const Motion& first = program.program.motions[cutting.front().move];
    const bool down = !goesSideways(first) && first.end.z < first.start.z;
    f.message = fmt::format("rapid {} {}{} into the stock ({}{})", down ? "plunges" : "cuts", upTo(f),
                            quantityText(facts.job, Quantity::length, *f.amount), upTo(f), sizeOf(facts.job, cuts));
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
