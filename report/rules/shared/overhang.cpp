#include "report/rules/shared/overhang.h"

#include <algorithm>

#include "report/facts/measures.h"

namespace provecut {

bool followsFromFlutes(const Facts& facts, std::size_t program, std::uint32_t move) {
  const std::vector<Motion>& motions = facts.programs[program].program.motions;
  const Motion& m = motions[move];
  if (cutOf(facts, program, move).broken_mm <= 0 || goesSideways(m) || m.end.z <= m.start.z) return false;
  const Tool* tool = findTool(facts.job, m.tool);
  if (!tool || tool->shape == ToolShape::form) return false;
  const std::vector<BodyInStock>& bodies = facts.run.programs[program].bodies_in_stock;
  return std::any_of(bodies.begin(), bodies.end(), [&](const BodyInStock& b) {
    return b.part == ToolPart::shank && b.move < move && motions[b.move].tool == m.tool;
  });
}

}  // namespace provecut
