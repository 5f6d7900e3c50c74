#include "sim/pieces/thin_floor.h"

#include <algorithm>
#include <cmath>

namespace provecut::pieces {

namespace {

// Neighbours thinner by less than this count as equal.
constexpr float level_mm = 1e-3F;

bool isLowest(const cutting::DexelField& f, int x, int y, cutting::DexelSegment run) {
  const float thickness = run.high - run.low;
  cutting::DexelSegment plain;
  for (int dy = -1; dy <= 1; ++dy) {
    for (int dx = -1; dx <= 1; ++dx) {
      if (!f.inside(x + dx, y + dy)) continue;
      bool goes_on = false;
      for (const cutting::DexelSegment& r : cutting::centreSegments(f, f.index(x + dx, y + dy), plain)) {
        if (std::min(r.high, run.high) - std::max(r.low, run.low) <= cutting::no_material_mm) continue;
        if (r.high - r.low < thickness - level_mm) return false;
        goes_on = true;
      }
      if (!goes_on) return false;
    }
  }
  return true;
}

// Calls `visit(run)` for every run of the dexel that the program made thinner.
template <class Visit>
void cutRuns(const FloorSearch& s, std::size_t c, const Visit& visit) {
  if (!s.after.undercut.holds(c) && !s.before.undercut.holds(c)) {
    if (s.before.top[c] - s.after.top[c] > cutting::no_material_mm && s.after.thickness(c) > cutting::no_material_mm)
      visit({s.after.floor[c], s.after.top[c]});
    return;
  }
  cutting::DexelSegment plain_before, plain_after;
  const auto before = cutting::centreSegments(s.before, c, plain_before);
  for (const cutting::DexelSegment& r : cutting::centreSegments(s.after, c, plain_after)) {
    const bool as_it_was = std::any_of(before.begin(), before.end(), [&](cutting::DexelSegment b) {
      return std::abs(b.low - r.low) <= cutting::no_material_mm && std::abs(b.high - r.high) <= cutting::no_material_mm;
    });
    if (!as_it_was) visit(r);
  }
}

}  // namespace

std::vector<FoundFloor> thinFloors(const FloorSearch& s) {
  const cutting::DexelField& f = s.after;
  // The surface that was not cut from below lies on the spoilboard, whatever the stock's thickness.
  // What hangs over a hollow has an underside cut from this side; its top moves with the stock where it is uncut.
  const auto movesOf = [&](std::size_t c, cutting::DexelSegment run) {
    const bool hangs = run.low > f.floor[c] + cutting::no_material_mm;
    const bool uncut_top = run.high >= static_cast<float>(f.thickness_mm) - cutting::no_material_mm;
    const int low_moves = hangs ? s.top_moves : run.low > cutting::no_material_mm ? s.floor_moves : 0;
    const int top_moves = hangs && uncut_top ? 1 : s.top_moves;
    return top_moves - low_moves;
  };
  const auto worstOf = [&](std::size_t c, cutting::DexelSegment run) {
    return cutting::shownHeight_mm(run.high - run.low) - s.tolerance_mm * std::abs(movesOf(c, run));
  };
  std::vector<std::uint8_t> left_out(f.top.size(), 1);
  bool any = false;
  for (int y = 0; y < f.ny; ++y) {
    for (std::size_t c = f.index(0, y), end = f.index(f.nx, y); c < end; ++c) {
      if (!s.webs.empty() && s.webs[c]) continue;
      cutRuns(s, c, [&](cutting::DexelSegment run) {
        if (worstOf(c, run) >= s.limit_mm - 1e-4) return;
        left_out[c] = 0;
        any = true;
      });
    }
  }
  if (!any) return {};
  const Pieces regions = labelPieces(f, &left_out);
  std::vector<FoundFloor> best(regions.shapes.size());
  std::vector<bool> found(regions.shapes.size(), false);
  for (int y = 0; y < f.ny; ++y) {
    for (int x = 0; x < f.nx; ++x) {
      const std::size_t c = f.index(x, y);
      if (regions.label[c] == 0) continue;
      const auto k = static_cast<std::size_t>(regions.label[c] - 1);
      cutRuns(s, c, [&](cutting::DexelSegment run) {
        const double worst = worstOf(c, run);
        if (worst >= s.limit_mm - 1e-4 || (found[k] && worst >= best[k].floor.worst_mm)) return;
        if (!isLowest(f, x, y, run)) return;
        found[k] = true;
        best[k].cell = static_cast<std::uint32_t>(c);
        best[k].at = atHeight(f.centre(x, y), cutting::shownHeight_mm(run.high));
        best[k].floor = {0,
                         {},
                         cutting::shownHeight_mm(run.high - run.low),
                         worst,
                         regions.shapes[k].plan_area_mm2,
                         movesOf(c, run)};
      });
    }
  }
  std::vector<FoundFloor> floors;
  for (std::size_t k = 0; k < best.size(); ++k) {
    if (found[k]) floors.push_back(best[k]);
  }
  std::stable_sort(floors.begin(), floors.end(),
                   [](const FoundFloor& a, const FoundFloor& b) { return a.floor.worst_mm < b.floor.worst_mm; });
  return floors;
}

}  // namespace provecut::pieces
