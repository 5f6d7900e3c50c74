#include <fmt/core.h>

#include <cmath>
#include <numbers>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/moves_by_tool.h"

namespace provecut {

namespace drill_sideways {

constexpr std::string_view page = R"(## What it finds

A drill is fed sideways through material: on a level feed move, on an arc, or on a move less steep than 45°. A spot
drill of 90° or less may chamfer and engrave within its point.

## Why it matters

A drill cuts only at its point. Fed sideways it rubs, bends and breaks, and throws the pieces.

## Example

    T1 M6 (6 mm drill)
    G1 Z-6 F300
    G1 X140 F1000

## What to do

Use a bit that cuts with its sides, or check that the job file has the right tool.

## What `amount` is

The axial depth of cut in mm, the largest of the group.

## Source

Common practice; no published source. Spot drills and chamfer bits of 82° and 90° have the same point.
)";

constexpr double steep_deg = 45;  // a drill that is led a little aside still bores

// A point as sharp as a chamfer bit's works like one, as deep as it is high.
constexpr double spot_drill_deg = 90;

bool chamfers(const Tool& tool, const MoveCut& cut) {
  if (tool.angle_deg <= 0 || tool.angle_deg > spot_drill_deg) return false;
  const double point_mm = tool.diameter_mm / 2 / std::tan(tool.angle_deg / 2 * std::numbers::pi / 180);
  return double{cut.axial_depth_mm} <= point_mm;
}

std::optional<double> fedSideways(const Facts& facts, const ToolMove& move) {
  if (move.motion.kind == MotionKind::rapid || !goesSideways(move.motion)) return std::nullopt;
  const MoveCut cut = cutOf(facts, move.program, move.index);
  if (descentDeg(move.motion) >= steep_deg || !cutsMaterial(cut) || chamfers(move.tool, cut)) return std::nullopt;
  return cut.axial_depth_mm;
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  const Judge judge = [&](const ToolMove& move) { return fedSideways(facts, move); };
  const auto drill = [](const Tool& t) { return t.shape == ToolShape::drill; };
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    for (const auto& [number, sideways] : movesByTool(facts, i, judge, drill)) {
      Finding f = toolFinding(facts, i, drill_sideways_rule, number, sideways, Worst::largest, Quantity::length);
      f.message = fmt::format("{} is a drill and cuts sideways, {}{} deep", f.subject, upTo(f),
                              quantityText(facts.job, Quantity::length, *f.amount));
      f.help = "Use a bit that cuts with its sides, or check that the job file has the right tool.";
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace drill_sideways

const Rule drill_sideways_rule{"drill-sideways", Level::look, "A drill is fed sideways through material.",
                               drill_sideways::page, drill_sideways::check};

}  // namespace provecut
