#include "report/rules/shared/rapid_cut.h"

#include <algorithm>
#include <numbers>

#include "report/facts/measures.h"
#include "report/rules/shared/overhang.h"
#include "sim/tool/cutting_load.h"

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
    if (cut.section_mm2 <= 0) rapid.area_mm2 = double{cut.removed_mm3} / double{cut.bite_mm};
    if (const Tool* tool = findTool(facts.job, motions[m].tool))
      rapid.graze = brushes(facts, program, motions[m], cut, rapid, diameterAt_mm(bodies.of(*tool), rapid.depth_mm));
    cuts.push_back(rapid);
  }
  return cuts;
}

}  // namespace provecut
