#include "report/rules/shared/tab_margin.h"

#include <algorithm>
#include <limits>

#include "report/base/number_text.h"
#include "sim/tabs/tab_strength.h"
#include "sim/tool/cutting_material.h"

namespace provecut {

std::optional<TabMargin> tabMargin(const Facts& facts, const Piece& piece) {
  const Stock& stock = facts.job.stock;
  if (!stock.material_given || piece.tabs.empty()) return std::nullopt;
  TabMargin margin;
  for (const MoveRef& ref : piece.beside) {
    const Motion& m = facts.programs[ref.run].program.motions[ref.move];
    const Tool* tool = findTool(facts.job, m.tool);
    if (!tool || m.rpm <= 0 || m.feed_mm_min <= 0 || tool->flutes < 1) continue;
    const double chip = double{m.feed_mm_min} / (double{m.rpm} * tool->flutes);
    const double axial = facts.run.programs[ref.run].cuts[ref.move].axial_depth_mm;
    const double force = toothForce_n(cuttingForce(stock.material), axial, chip);
    if (force <= margin.tooth_n) continue;
    margin.tooth_n = force;
    margin.move = ref;
    margin.axial_depth_mm = axial;
    margin.max_chip_thickness_mm = chip;
  }
  if (margin.tooth_n <= 0) return std::nullopt;
  margin.weakest_n = std::numeric_limits<double>::infinity();
  for (const Tab& tab : piece.tabs) {
    if (tab.onion_skin) return std::nullopt;
    const double load = pieces::tabSideLoad_n(stock, tab);
    margin.weakest_n = std::min(margin.weakest_n, load);
    margin.total_n += load;
  }
  return margin;
}

std::string tabForceText(double force_n) {
  if (force_n < 0.1) return "less than 0.1 N";
  return shortNumber(force_n, force_n < 9.95 ? 1 : 0) + " N";
}

}  // namespace provecut
