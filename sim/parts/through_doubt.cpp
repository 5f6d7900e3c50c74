#include "sim/parts/through_doubt.h"

#include <algorithm>
#include <cmath>

#include "sim/parts/thin_floor.h"
#include "sim/path/motion_extent.h"
#include "sim/path/setup_frame.h"
#include "sim/stock/dexel_replay.h"
#include "sim/stock/dexel_walk.h"

namespace provecut::pieces {

namespace {

using cutting::Cell;

// Heights that differ by no more are the same: a skin as thick as the tolerance is in doubt.
constexpr double same_mm = 1e-4;

// How much more is left in the cell where the stock is off by the tolerance, mm.
double gain(const ThroughSearch& s, Cell c) {
  const int floor_moves = s.after.floor[c] > cutting::no_material_mm ? s.floor_moves : 0;
  return s.job.stock.thickness_tolerance_mm * std::abs(s.top_moves - floor_moves);
}

// The height down to which a move must come to matter here; below 0: none does.
double deepEnough(const ThroughSearch& s) {
  const cutting::DexelField& f = s.after;
  double deep_enough = -1;
  cutting::eachCell(f, [&](Cell c) {
    const double more = gain(s, c);
    if (more == 0 || f.top[c] >= s.before.top[c] || double{f.thickness(c)} > more + same_mm) return;
    deep_enough = std::max(deep_enough, double{f.floor[c]} + more);
  });
  return deep_enough;
}

float thickFloor(const ThroughSearch& s, Cell c) {
  return s.before.thickness(c) <= cutting::no_material_mm ? s.before.floor[c]
                                                          : s.before.floor[c] - static_cast<float>(gain(s, c));
}

}  // namespace

std::vector<FoundDoubt> doubtfulThroughs(const ThroughSearch& s) {
  const double tolerance = s.job.stock.thickness_tolerance_mm;
  if (tolerance <= 0) return {};
  const double deep_enough = deepEnough(s);
  if (deep_enough < 0) return {};
  std::vector<Motion> deep;
  std::vector<std::uint32_t> index;
  for (std::uint32_t m = 0; m < s.program.motions.size(); ++m) {
    const Motion& motion = s.program.motions[m];
    if (!moves(motion) || workToSetup(s.setup, motionExtent(motion).low).z > deep_enough + same_mm) continue;
    deep.push_back(motion);
    index.push_back(m);
  }
  cutting::DexelField thick = cutting::toCutAgain(s.before);
  for (Cell c = 0; c < thick.floor.size(); ++c) thick.floor[c] = thick.floor_mean[c] = thickFloor(s, c);
  cutting::cutProgram(thick, s.cutters, s.job, s.setup, deep, {.measured = false});
  std::vector<FoundDoubt> found;
  cutting::DexelReplayer replayer(thick, s.cutters, s.job, s.setup, deep);
  const Mask no_webs;
  for (const FoundFloor& floor : thinFloors({s.before, thick, no_webs, 2 * (tolerance + same_mm), 0, 0, 0})) {
    const Cell c = floor.cell;
    const double more = gain(s, c), as_said = floor.thickness_mm - more;
    if (more == 0 || as_said > more + same_mm) continue;
    FoundDoubt d{0, floor.at, std::max(0.0, as_said), floor.thickness_mm, floor.area_mm2, thick.floor[c], thick.top[c]};
    const cutting::DexelReplay replay = replayer.replay(c, {thickFloor(s, c), s.before.top[c]});
    if (replay.last) d.move = index[*replay.last];
    found.push_back(d);
  }
  return found;
}

}  // namespace provecut::pieces
