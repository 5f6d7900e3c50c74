#include "report/rules/shared/rapid_cut.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "report/facts/measures.h"
#include "report/rules/shared/overhang.h"
#include "sim/tool/cutting_load.h"
#include "sim/tool/tool_body.h"

namespace provecut {

namespace {

bool brushes(const Facts& facts, std::size_t program, const Motion& motion, const MoveCut& cut, const RapidCut& rapid,
             double full_width_mm) {
  if (rapid.depth_mm >= max_graze_depth_mm || rapid.area_mm2 >= max_graze_area_mm2) return false;
  if (cut.section_mm2 <= 0)
    return motion.end.z > motion.start.z && rapid.area_mm2 < std::numbers::pi / 8 * full_width_mm * full_width_mm;
  const double material_z = std::max(motion.start.z, motion.end.z) + double{cut.axial_depth_mm};
  const bool untouched = material_z > stockTopZ(facts, *facts.programs[program].setup) - double{least_bite_mm};
  return !untouched || rapid.width_mm < full_width_mm / 2;
}

// A point between the centres of dexels takes more than any of them tells: where a rapid goes into untouched stock,
// it goes as deep as its tip.
double depthOf(const Facts& facts, std::size_t program, const Motion& motion, const MoveCut& cut,
               const ToolBody& body) {
  constexpr double share = 0.75;
  const double bite = double{cut.bite_mm}, below_top = double{cut.axial_depth_mm};
  const double material_z = lowestTip(motion).z + below_top;
  const Vec3& cell = facts.run.stock.cell_mm;
  const bool untouched = material_z > stockTopZ(facts, *facts.programs[program].setup) - double{least_bite_mm};
  const bool between = below_top - bite <= lowerSurface(body, std::hypot(cell.x, cell.y) / 2);
  return untouched && between && bite > share * below_top ? std::max(bite, below_top) : bite;
}

}  // namespace

std::vector<RapidCut> rapidCuts(const Facts& facts, std::size_t program) {
  ToolBodies bodies(facts.job);
  std::vector<RapidCut> cuts;
  const std::vector<Motion>& motions = facts.programs[program].program.motions;
  for (std::uint32_t m = 0; m < motions.size(); ++m) {
    const MoveCut cut = cutOf(facts, program, m);
    if (motions[m].kind != MotionKind::rapid || !cutsMaterial(cut)) continue;
    if (!goesSideways(motions[m]) && followsFromFlutes(facts, program, m)) continue;
    RapidCut rapid{m, double{cut.bite_mm}, double{cut.section_mm2}, double{cut.max_radial_depth_mm}};
    if (cut.section_mm2 <= 0)
      rapid.area_mm2 = cut.plan_mm2 > 0 ? double{cut.plan_mm2} : double{cut.removed_mm3} / double{cut.bite_mm};
    if (const Tool* tool = findTool(facts.job, motions[m].tool)) {
      const ToolBody& body = bodies.of(*tool);
      rapid.depth_mm = depthOf(facts, program, motions[m], cut, body);
      const double full_mm = diameterAt_mm(body, rapid.depth_mm);
      rapid.tapers = diameterAt_mm(body, 0) < 0.98 * full_mm;
      rapid.width_mm = std::min(rapid.width_mm, full_mm);
      rapid.graze = brushes(facts, program, motions[m], cut, rapid, full_mm);
    }
    cuts.push_back(rapid);
  }
  return cuts;
}

}  // namespace provecut
