#include "report/rules/shared/stickout.h"

#include <algorithm>
#include <limits>

#include "report/facts/measures.h"
#include "sim/clearance/tolerance.h"
#include "sim/path/setup_frame.h"

namespace provecut {

double leastStickout_mm(const Facts& facts, const Tool& tool) {
  double below_nut_mm = 0;
  for (const SpindleAttachment& a : facts.job.spindle_attachments) below_nut_mm = std::max(below_nut_mm, -a.bottom_mm);
  double least_mm = tool.flute_length_mm;
  for (const ProgramFacts& p : facts.programs) {
    const double top_z = highestStanding(facts, p).z;
    for (const Motion& m : p.program.motions) {
      if (m.tool != tool.number || !moves(m)) continue;
      least_mm = std::max(least_mm, top_z - lowestTip(m).z + facts.job.limits.clearance_mm + below_nut_mm);
    }
  }
  return least_mm;
}

bool goesThroughSurely(const Facts& facts, double below_mm) {
  constexpr double sure_mm = 0.1;  // no zero is surer: our own estimate
  return below_mm >= std::max(sure_mm, facts.job.stock.thickness_tolerance_mm);
}

bool hasLevelTip(const Facts& facts, std::size_t program, const Occurrence& cut) {
  const Tool* tool = findTool(facts.job, facts.programs[program].program.motions[cut.move].tool);
  return tool && tool->shape == ToolShape::flat;
}

std::optional<double> shallowerZ(const Facts& facts, std::size_t program, const std::vector<Occurrence>& deep) {
  const ProgramFacts& p = facts.programs[program];
  double z = -std::numeric_limits<double>::infinity();
  for (const Occurrence& o : deep) {
    const std::vector<Motion>& motions = p.program.motions;
    const WorkPoint tip = lowestTip(motions[o.move]);
    if (workToSetup(*p.setup, tip).z <= clearance::contact_tolerance_mm) return std::nullopt;
    z = std::max(z, tip.z + o.amount);
  }
  const bool thin = workToSetup(*p.setup, WorkPoint{0, 0, z}).z < facts.job.limits.min_floor_mm;
  return !thin && z < stockTopZ(facts, *p.setup) ? std::optional(z) : std::nullopt;
}

}  // namespace provecut
