#include "sim/column_replay.h"

#include <algorithm>
#include <vector>

#include "sim/motion_extent.h"
#include "sim/setup_frame.h"
#include "sim/sweep.h"
#include "sim/undercut.h"

namespace provecut {

void ColumnReplayer::findReaches() {
  if (!reaches_.empty() || motions_.empty()) return;
  reaches_.resize(motions_.size());
  const double cell = std::max(field_.cell_x_mm, field_.cell_y_mm);
  for (std::size_t m = 0; m < motions_.size(); ++m) {
    const Motion& motion = motions_[m];
    const auto cutter = cutters_.find(motion.tool);
    if (!moves(motion) || cutter == cutters_.end()) continue;
    if (motion.flags & (motion_start_unknown | motion_height_unknown)) {
      constexpr float anywhere = 1e30F;
      reaches_[m] = {-anywhere, -anywhere, anywhere, anywhere};
      continue;
    }
    const double r = static_cast<double>(cutter->second.shape.radius) + cell;
    const Box3 box = motionExtent(motion);
    const Vec3 a = workToLying(setup_, box.low), b = workToLying(setup_, box.high);
    reaches_[m] = {static_cast<float>(std::min(a.x, b.x) - r), static_cast<float>(std::min(a.y, b.y) - r),
                   static_cast<float>(std::max(a.x, b.x) + r), static_cast<float>(std::max(a.y, b.y) + r)};
  }
}

ColumnReplay ColumnReplayer::replay(std::size_t cell, const ColumnStart& start) {
  findReaches();
  const ColumnField& f = field_;
  const auto stride = static_cast<std::size_t>(f.stride);
  ColumnField column;
  column.nx = column.ny = 1;
  column.stride = ColumnField::lanes;
  column.cell_x_mm = f.cell_x_mm;
  column.cell_y_mm = f.cell_y_mm;
  column.thickness_mm = f.thickness_mm;
  for (auto* heights : {&column.top, &column.floor, &column.top_mean, &column.floor_mean}) heights->assign(ColumnField::lanes, 0);
  column.top[0] = column.top_mean[0] = start.top;
  column.floor[0] = column.floor_mean[0] = start.floor;
  column.undercut.prepare(ColumnField::lanes, 1);
  column.undercut.mirrored = f.undercut.mirrored;
  if (start.hollows) {
    UndercutCell& alone = column.undercut.add(0, 0, 0);
    alone = *start.hollows;
    alone.x = 0;
  }
  const double dx = static_cast<double>(cell % stride) * f.cell_x_mm, dy = static_cast<double>(cell / stride) * f.cell_y_mm;
  ColumnReplay result{start.top, {}};
  std::vector<Sweep> sweeps;
  const float x = static_cast<float>(dx + f.cell_x_mm / 2), y = static_cast<float>(dy + f.cell_y_mm / 2);
  for (std::size_t m = 0; m < motions_.size(); ++m) {
    const Reach& reach = reaches_[m];
    if (x < reach.low_x || x > reach.high_x || y < reach.low_y || y > reach.high_y) continue;
    const Cutter& cutter = cutters_.at(motions_[m].tool);
    sweeps.clear();
    appendSweeps(motions_[m], static_cast<std::uint32_t>(m), setup_, job_.machine, 0.05 * std::min(f.cell_x_mm, f.cell_y_mm), sweeps);
    for (Sweep s : sweeps) {
      s.ax -= dx;
      s.bx -= dx;
      s.ay -= dy;
      s.by -= dy;
      const float solid = solid_mm(column, 0);
      bool by_pieces = false;
      cutSweep(column, cutter, s, 0, 1, by_pieces);
      if (solid_mm(column, 0) < solid - no_material_mm) result.last = static_cast<std::uint32_t>(m);
    }
  }
  result.top = column.top[0];
  return result;
}

}  // namespace provecut
