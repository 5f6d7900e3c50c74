#include "sim/parts/through_doubt.h"

#include <algorithm>
#include <cmath>

#include "sim/parts/sold_thickness.h"
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

// How far the stock may be off.
struct Off {
  SoldSpread by;
  ThroughDoubt why = ThroughDoubt::exact;
};

Off offOf(const Stock& stock) {
  if (const double mm = stock.thickness_tolerance_mm; mm > 0) return {{mm, mm}, ThroughDoubt::tolerance};
  const auto sold = stock.material_given ? soldSpread(stock.material, stock.size_mm.z) : std::nullopt;
  return sold ? Off{*sold, ThroughDoubt::as_sold} : Off{};
}

// Of a cell: how much more may be left than in the stock as said, and how much it may be there to be in doubt.
struct InDoubt {
  double more_mm = foil_mm, as_said_mm = 0;
  ThroughDoubt why = ThroughDoubt::exact;
};

InDoubt inDoubt(const ThroughSearch& s, const Off& off, Cell c) {
  const int moves = s.top_moves - (s.after.floor[c] > cutting::no_material_mm ? s.floor_moves : 0);
  if (off.why == ThroughDoubt::exact || moves == 0) return {};
  return moves > 0 ? InDoubt{off.by.thicker_mm, off.by.thinner_mm, off.why}
                   : InDoubt{off.by.thinner_mm, off.by.thicker_mm, off.why};
}

// The heights at which a cut is in doubt somewhere, and how much can be left there.
struct DoubtRange {
  double low = 1e30, high = -1e30, left_mm = 0;
};

DoubtRange rangeOf(const ThroughSearch& s, const Off& off) {
  const cutting::DexelField& f = s.after;
  DoubtRange range;
  cutting::eachCell(f, [&](Cell c) {
    if (f.top[c] >= s.before.top[c]) return;
    const InDoubt d = inDoubt(s, off, c);
    if (double{f.thickness(c)} > d.as_said_mm + same_mm) return;
    range.low = std::min(range.low, double{f.floor[c]} - d.more_mm);
    range.high = std::max(range.high, double{f.floor[c]} + d.as_said_mm + same_mm);
    range.left_mm = std::max(range.left_mm, d.more_mm + d.as_said_mm + 2 * same_mm);
  });
  return range;
}

// The moves that come deep enough to matter; none where all of these go deeper than any doubt.
struct DeepMoves {
  std::vector<Motion> list;
  std::vector<std::uint32_t> index;
};

DeepMoves deepMoves(const ThroughSearch& s, const DoubtRange& range) {
  DeepMoves deep;
  bool any = false;
  for (std::uint32_t m = 0; m < s.program.motions.size(); ++m) {
    const Motion& motion = s.program.motions[m];
    if (!moves(motion)) continue;
    const double z = workToSetup(s.setup, motionExtent(motion).low).z;
    if (z > range.high) continue;
    any = any || z > range.low - same_mm;
    deep.list.push_back(motion);
    deep.index.push_back(m);
  }
  return any ? deep : DeepMoves{};
}

float thickFloor(const ThroughSearch& s, const Off& off, Cell c) {
  return s.before.thickness(c) <= cutting::no_material_mm
             ? s.before.floor[c]
             : s.before.floor[c] - static_cast<float>(inDoubt(s, off, c).more_mm);
}

}  // namespace

std::vector<FoundDoubt> doubtfulThroughs(const ThroughSearch& s) {
  const Off off = offOf(s.job.stock);
  const DoubtRange range = rangeOf(s, off);
  const DeepMoves deep = deepMoves(s, range);
  if (deep.list.empty()) return {};
  cutting::DexelField thick = cutting::toCutAgain(s.before);
  for (Cell c = 0; c < thick.floor.size(); ++c) thick.floor[c] = thick.floor_mean[c] = thickFloor(s, off, c);
  cutting::cutProgram(thick, s.cutters, s.job, s.setup, deep.list, {.measured = false});
  std::vector<FoundDoubt> found;
  cutting::DexelReplayer replayer(thick, s.cutters, s.job, s.setup, deep.list);
  const Mask no_webs;
  for (const FoundFloor& floor : thinFloors({s.before, thick, no_webs, range.left_mm, 0, 0, 0})) {
    const Cell c = floor.cell;
    const InDoubt doubt = inDoubt(s, off, c);
    const double as_said = floor.thickness_mm - doubt.more_mm;
    if (as_said > doubt.as_said_mm + same_mm) continue;
    FoundDoubt d{0,
                 floor.at,
                 std::max(0.0, as_said),
                 floor.thickness_mm,
                 floor.area_mm2,
                 thick.floor[c],
                 thick.top[c],
                 doubt.why,
                 std::max(0.0, -as_said)};
    const cutting::DexelReplay replay = replayer.replay(c, {thickFloor(s, off, c), s.before.top[c]});
    if (replay.last) d.move = deep.index[*replay.last];
    found.push_back(d);
  }
  return found;
}

}  // namespace provecut::pieces
