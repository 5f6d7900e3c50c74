#include "report/facts/tool_load.h"

#include <algorithm>

#include "report/facts/measures.h"

namespace provecut {

std::vector<ToolLoad> toolLoads(const Facts& facts, std::size_t i) {
  std::vector<ToolLoad> all;
  const std::vector<Motion>& motions = facts.programs[i].program.motions;
  for (std::size_t m = 0; m < motions.size(); ++m) {
    const MoveLoad load = loadOf(facts, i, m);
    if (load.chip_load_mm <= 0) continue;
    auto at = std::find_if(all.begin(), all.end(), [&](const ToolLoad& t) { return t.tool == motions[m].tool; });
    if (at == all.end()) at = all.insert(at, ToolLoad{motions[m].tool});
    ToolLoad& t = *at;
    const double seconds = moveSeconds(facts, motions[m], load);
    t.cutting_s += seconds;
    t.mean_chip_load_mm += load.chip_load_mm * seconds;
    const MoveCut cut = cutOf(facts, i, m);
    t.mean_removal_mm3_min += double{cut.removed_mm3} * 60;
    const auto raise = [](double& max, float value) { max = std::max(max, double{value}); };
    if (load.max_chip_thickness_mm > t.max_chip_thickness_mm) t.max_chip_line = motions[m].line;
    raise(t.max_chip_thickness_mm, load.max_chip_thickness_mm);
    raise(t.max_radial_depth_mm, cut.max_radial_depth_mm);
    raise(t.max_removal_mm3_min, load.removal_mm3_min);
    raise(t.max_power_w, load.power_w);
    raise(t.max_force_n, load.force_n);
    raise(t.max_deflection_mm, load.deflection_mm);
  }
  for (ToolLoad& t : all) {
    if (t.cutting_s <= 0) continue;
    t.mean_chip_load_mm /= t.cutting_s;
    t.mean_removal_mm3_min /= t.cutting_s;
  }
  return all;
}

}  // namespace provecut
