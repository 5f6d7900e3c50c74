#include "report/rules/shared/overhang.h"

#include <algorithm>
#include <cmath>

#include "report/facts/measures.h"
#include "sim/clearance/tolerance.h"

namespace provecut {

bool followsFromFlutes(const Facts& facts, std::size_t program, std::uint32_t move) {
  const std::vector<Motion>& motions = facts.programs[program].program.motions;
  const Motion& m = motions[move];
  if (cutOf(facts, program, move).broken_mm <= 0 || m.end.z <= m.start.z) return false;
  const Tool* tool = findTool(facts.job, m.tool);
  if (!tool || tool->shape == ToolShape::form) return false;
  const std::vector<BodyInStock>& bodies = facts.run.programs[program].bodies_in_stock;
  return std::any_of(bodies.begin(), bodies.end(), [&](const BodyInStock& b) {
    return b.part == ToolPart::shank && b.move < move && motions[b.move].tool == m.tool;
  });
}

bool isUndercutLift(const Facts& facts, std::size_t program, std::uint32_t move) {
  const Motion& m = facts.programs[program].program.motions[move];
  return m.end.z > m.start.z && double{cutOf(facts, program, move).broken_mm} > min_overhang_mm &&
         !followsFromFlutes(facts, program, move);
}

bool onlyBrushes(const Tool& tool, double above_mm) {
  constexpr double brush_mm = 0.5;
  return above_mm <= brush_mm && std::abs(tool.shank_diameter_mm - tool.diameter_mm) <= clearance::contact_tolerance_mm;
}

}  // namespace provecut
