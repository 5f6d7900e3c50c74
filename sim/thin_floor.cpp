#include "sim/thin_floor.h"

#include <algorithm>
#include <cmath>

namespace provecut {

namespace {

// Neighbours thinner by less than this count as equal.
constexpr float level_mm = 1e-3F;

bool isLowest(const ColumnField& f, int x, int y, float thickness) {
  for (int dy = -1; dy <= 1; ++dy) {
    for (int dx = -1; dx <= 1; ++dx) {
      if (!f.inside(x + dx, y + dy)) continue;
      if (f.thickness(f.index(x + dx, y + dy)) < thickness - level_mm) return false;
    }
  }
  return true;
}

}  // namespace

std::vector<FoundFloor> thinFloors(const FloorSearch& s) {
  const ColumnField& f = s.after;
  // The surface that was not cut from below lies on the spoilboard, whatever the blank's thickness.
  const auto worstOf = [&](std::size_t c) {
    const int floor_moves = f.floor[c] > no_material_mm ? s.floor_moves : 0;
    return shownHeight_mm(f.thickness(c)) - s.tolerance_mm * std::abs(s.top_moves - floor_moves);
  };
  std::vector<std::uint8_t> left_out(f.top.size(), 1);
  bool any = false;
  for (int y = 0; y < f.ny; ++y) {
    for (std::size_t c = f.index(0, y), end = f.index(f.nx, y); c < end; ++c) {
      const bool cut = s.before.top[c] - f.top[c] > no_material_mm;
      if (!cut || f.thickness(c) <= no_material_mm || worstOf(c) >= s.limit_mm - 1e-4) continue;
      if (!s.webs.empty() && s.webs[c]) continue;
      left_out[c] = 0;
      any = true;
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
      const double thickness = shownHeight_mm(f.thickness(c)), worst = worstOf(c);
      if (found[k] && worst >= best[k].floor.worst_mm) continue;
      if (!isLowest(f, x, y, f.thickness(c))) continue;
      found[k] = true;
      best[k].cell = static_cast<std::uint32_t>(c);
      best[k].floor = {0, {f.centreX(x), f.centreY(y), shownHeight_mm(f.top[c])}, thickness, worst, regions.shapes[k].plan_area_mm2};
    }
  }
  std::vector<FoundFloor> floors;
  for (std::size_t k = 0; k < best.size(); ++k) {
    if (found[k]) floors.push_back(best[k]);
  }
  std::stable_sort(floors.begin(), floors.end(), [](const FoundFloor& a, const FoundFloor& b) { return a.floor.worst_mm < b.floor.worst_mm; });
  return floors;
}

}  // namespace provecut
