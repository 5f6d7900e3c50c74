#include "sim/stock/dexel_replay.h"

#include <algorithm>
#include <vector>

#include "sim/path/motion_extent.h"
#include "sim/path/setup_frame.h"
#include "sim/path/sweep.h"
#include "sim/stock/undercut.h"

namespace provecut::cutting {

namespace {

// A field of one dexel, as `start` says.
DexelField singleDexel(const DexelField& f, const DexelStart& start) {
  DexelField dexel;
  dexel.nx = dexel.ny = 1;
  dexel.stride = DexelField::lanes;
  dexel.cell_x_mm = f.cell_x_mm;
  dexel.cell_y_mm = f.cell_y_mm;
  dexel.thickness_mm = f.thickness_mm;
  for (auto* heights : {&dexel.top, &dexel.floor, &dexel.top_mean, &dexel.floor_mean})
    heights->assign(DexelField::lanes, 0);
  dexel.top[0] = dexel.top_mean[0] = start.top;
  dexel.floor[0] = dexel.floor_mean[0] = start.floor;
  dexel.undercut.prepare(DexelField::lanes, 1);
  dexel.undercut.mirrored = f.undercut.mirrored;
  if (start.hollows) {
    UndercutCell& alone = dexel.undercut.add(0, 0, 0);
    alone = *start.hollows;
    alone.x = 0;
  }
  return dexel;
}

}  // namespace

void DexelReplayer::findReaches() {
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
    const double r = cutter->second.shape.radius + cell;
    const SetupBox box = workToSetup(setup_, motionExtent(motion));
    const SetupPoint a = box.low, b = box.high;
    reaches_[m] = {static_cast<float>(std::min(a.x, b.x) - r), static_cast<float>(std::min(a.y, b.y) - r),
                   static_cast<float>(std::max(a.x, b.x) + r), static_cast<float>(std::max(a.y, b.y) + r)};
  }
}

DexelReplay DexelReplayer::replay(Cell cell, const DexelStart& start) {
  findReaches();
  const DexelField& f = field_;
  DexelField dexel = singleDexel(f, start);
  const CellPlace place = f.place(cell);
  const double dx = place.x * f.cell_x_mm, dy = place.y * f.cell_y_mm;
  DexelReplay result{start.top, {}};
  std::vector<Sweep> sweeps;
  const float x = static_cast<float>(dx + f.cell_x_mm / 2), y = static_cast<float>(dy + f.cell_y_mm / 2);
  for (std::uint32_t m = 0; m < motions_.size(); ++m) {
    const Reach& reach = reaches_[m];
    if (x < reach.low_x || x > reach.high_x || y < reach.low_y || y > reach.high_y) continue;
    const Cutter& cutter = cutters_.at(motions_[m].tool);
    sweeps.clear();
    appendSweeps(motions_[m], m, setup_, job_.machine, 0.05 * std::min(f.cell_x_mm, f.cell_y_mm), sweeps);
    for (Sweep s : sweeps) {
      s.ax -= dx;
      s.bx -= dx;
      s.ay -= dy;
      s.by -= dy;
      const float solid = solid_mm(dexel, 0);
      bool by_pieces = false;
      cutSweep(dexel, cutter, s, 0, 1, by_pieces);
      if (solid_mm(dexel, 0) < solid - no_material_mm) result.last = m;
    }
  }
  result.top = dexel.top[0];
  return result;
}

}  // namespace provecut::cutting
