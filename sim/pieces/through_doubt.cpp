#include "sim/pieces/through_doubt.h"

#include <algorithm>
#include <cmath>

#include "sim/path/motion_extent.h"
#include "sim/path/setup_frame.h"
#include "sim/pieces/thin_floor.h"
#include "sim/stock/dexel_replay.h"

namespace provecut::pieces {

std::vector<FoundDoubt> doubtfulThroughs(const ThroughSearch& s) {
  const double tolerance = s.job.stock.thickness_tolerance_mm;
  if (tolerance <= 0) return {};
  const cutting::DexelField& f = s.after;
  const auto gainOf = [&](std::size_t c) {
    return tolerance * std::abs(s.top_moves - (f.floor[c] > cutting::no_material_mm ? s.floor_moves : 0));
  };
  // Only moves that come as deep as that matter.
  double deep_enough = -1;
  for (int y = 0; y < f.ny; ++y) {
    for (std::size_t c = f.index(0, y), end = f.index(f.nx, y); c < end; ++c) {
      const double gain = gainOf(c);
      if (gain == 0 || f.top[c] >= s.before.top[c] || static_cast<double>(f.thickness(c)) >= gain) continue;
      deep_enough = std::max(deep_enough, static_cast<double>(f.floor[c]) + gain);
    }
  }
  if (deep_enough < 0) return {};
  std::vector<Motion> deep;
  std::vector<std::uint32_t> index;
  for (std::size_t m = 0; m < s.program.motions.size(); ++m) {
    const Motion& motion = s.program.motions[m];
    if (!moves(motion) || workToSetup(s.setup, motionExtent(motion).low).z > deep_enough) continue;
    deep.push_back(motion);
    index.push_back(static_cast<std::uint32_t>(m));
  }
  const auto thickFloor = [&](std::size_t c) {
    return s.before.thickness(c) <= cutting::no_material_mm ? s.before.floor[c]
                                                            : s.before.floor[c] - static_cast<float>(gainOf(c));
  };
  cutting::DexelField is = cutting::toCutAgain(s.before);
  for (std::size_t c = 0; c < is.floor.size(); ++c) is.floor[c] = is.floor_mean[c] = thickFloor(c);
  cutting::cutProgram(is, s.cutters, s.job, s.setup, deep, {.measured = false});
  std::vector<FoundDoubt> found;
  cutting::DexelReplayer replayer(is, s.cutters, s.job, s.setup, deep);
  const std::vector<std::uint8_t> no_webs;
  for (const FoundFloor& floor : thinFloors({s.before, is, no_webs, 2 * tolerance, 0, 0, 0})) {
    const std::size_t c = floor.cell;
    const double gain = gainOf(c), as_said = floor.floor.thickness_mm - gain;
    if (gain == 0 || as_said >= gain - 1e-4) continue;
    FoundDoubt d;
    d.cell = floor.cell;
    d.floor = is.floor[c];
    d.thick_top = is.top[c];
    d.at = floor.at;
    d.doubt = {0, {}, std::max(0.0, as_said), floor.floor.thickness_mm, floor.floor.area_mm2};
    const cutting::DexelReplay replay = replayer.replay(c, {thickFloor(c), s.before.top[c]});
    if (replay.last) d.doubt.move = index[*replay.last];
    found.push_back(d);
  }
  return found;
}

}  // namespace provecut::pieces
