#include "sim/column_replay.h"

#include <algorithm>
#include <vector>

#include "sim/sweep.h"
#include "sim/undercut.h"

namespace provecut {

ColumnReplay replayColumn(const ColumnField& f, std::size_t cell, const ColumnStart& start, const Cutters& cutters,
                          const Job& job, const Setup& setup, std::span<const Motion> motions) {
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
  for (std::size_t m = 0; m < motions.size(); ++m) {
    const auto cutter = cutters.find(motions[m].tool);
    if (!moves(motions[m]) || cutter == cutters.end()) continue;
    sweeps.clear();
    appendSweeps(motions[m], static_cast<std::uint32_t>(m), setup, job.machine, 0.05 * std::min(f.cell_x_mm, f.cell_y_mm), sweeps);
    for (Sweep s : sweeps) {
      s.ax -= dx;
      s.bx -= dx;
      s.ay -= dy;
      s.by -= dy;
      const float solid = solid_mm(column, 0);
      bool by_pieces = false;
      cutSweep(column, cutter->second, s, 0, 1, by_pieces);
      if (solid_mm(column, 0) < solid - no_material_mm) result.last = static_cast<std::uint32_t>(m);
    }
  }
  result.top = column.top[0];
  return result;
}

}  // namespace provecut
