#include "sim/parts/thin_floor.h"

#include <algorithm>
#include <cmath>

#include "sim/stock/dexel_walk.h"

namespace provecut::pieces {

namespace {

using cutting::Cell;

// Neighbours thinner by less than this count as equal.
constexpr float level_mm = 1e-3F;
constexpr double limit_slack_mm = 1e-4;  // rounding of heights

bool isLowest(const cutting::DexelField& f, int x, int y, cutting::DexelSegment segment) {
  const float thickness = segment.high - segment.low;
  cutting::DexelSegment plain;
  bool open = false;
  cutting::beside(f, f.index(x, y), [&](Cell n) {
    open = open || (cutting::gapBetween(f, f.index(x, y), n) &&
                    cutting::overlap_mm(f, f.index(x, y), n) <= cutting::no_material_mm);
  });
  if (open) return false;
  for (int dy = -1; dy <= 1; ++dy) {
    for (int dx = -1; dx <= 1; ++dx) {
      if (!f.inside(x + dx, y + dy)) continue;
      bool goes_on = false;
      for (const cutting::DexelSegment& s : cutting::centreSegments(f, f.index(x + dx, y + dy), plain)) {
        if (std::min(s.high, segment.high) - std::max(s.low, segment.low) <= cutting::no_material_mm) continue;
        if (s.high - s.low < thickness - level_mm) return false;
        goes_on = true;
      }
      if (!goes_on) return false;
    }
  }
  return true;
}

// Calls visit(segment) for every segment of the dexel that the program made thinner.
template <class Visit>
void cutSegments(const FloorSearch& s, Cell c, const Visit& visit) {
  if (!s.after.undercut.holds(c) && !s.before.undercut.holds(c)) {
    if (s.before.top[c] - s.after.top[c] > cutting::no_material_mm && s.after.thickness(c) > cutting::no_material_mm)
      visit({s.after.floor[c], s.after.top[c]});
    return;
  }
  cutting::DexelSegment plain_before, plain_after;
  const auto before = cutting::centreSegments(s.before, c, plain_before);
  for (const cutting::DexelSegment& now : cutting::centreSegments(s.after, c, plain_after)) {
    const bool as_it_was = std::any_of(before.begin(), before.end(), [&](cutting::DexelSegment b) {
      return std::abs(b.low - now.low) <= cutting::no_material_mm &&
             std::abs(b.high - now.high) <= cutting::no_material_mm;
    });
    if (!as_it_was) visit(now);
  }
}

// What was not cut from below lies on the spoilboard, whatever the stock's thickness. What hangs over a hollow has an
// underside cut from this side; its top moves with the stock where it is uncut.
int movesWithStock(const FloorSearch& s, Cell c, cutting::DexelSegment segment) {
  const bool hangs = segment.low > s.after.floor[c] + cutting::no_material_mm;
  const bool uncut_top = segment.high >= static_cast<float>(s.after.thickness_mm) - cutting::no_material_mm;
  const int low_moves = hangs ? s.top_moves : segment.low > cutting::no_material_mm ? s.floor_moves : 0;
  const int top_moves = hangs && uncut_top ? 1 : s.top_moves;
  return top_moves - low_moves;
}

// Its thickness in the worst stock of the tolerance.
double worstThickness(const FloorSearch& s, Cell c, cutting::DexelSegment segment) {
  return cutting::shownHeight_mm(segment.high - segment.low) - s.tolerance_mm * std::abs(movesWithStock(s, c, segment));
}

// 0 for each cell that the program left thin; empty where there is none.
Mask allButThin(const FloorSearch& s) {
  Mask left_out(s.after.top.size(), 1);
  bool any = false;
  cutting::eachCell(s.after, [&](Cell c) {
    if (!s.webs.empty() && s.webs[c]) return;
    cutSegments(s, c, [&](cutting::DexelSegment segment) {
      if (worstThickness(s, c, segment) >= s.limit_mm - limit_slack_mm) return;
      left_out[c] = 0;
      any = true;
    });
  });
  return any ? left_out : Mask{};
}

}  // namespace

std::vector<FoundFloor> thinFloors(const FloorSearch& s) {
  const Mask left_out = allButThin(s);
  if (left_out.empty()) return {};
  const cutting::DexelField& f = s.after;
  const Pieces regions = labelPieces(f, &left_out);
  std::vector<FoundFloor> best(regions.shapes.size());
  Mask found(regions.shapes.size(), 0);
  cutting::eachCell(f, [&](Cell c) {
    if (regions.label[c] == 0) return;
    const std::size_t k = regions.label[c] - 1;
    const auto [x, y] = f.place(c);
    cutSegments(s, c, [&, x = x, y = y](cutting::DexelSegment segment) {
      const double worst = worstThickness(s, c, segment);
      if (worst >= s.limit_mm - limit_slack_mm || (found[k] && worst >= best[k].worst_mm)) return;
      if (!isLowest(f, x, y, segment)) return;
      found[k] = 1;
      best[k] = {atHeight(f.centre(x, y), cutting::shownHeight_mm(segment.high)),
                 c,
                 cutting::shownHeight_mm(segment.high - segment.low),
                 worst,
                 regions.shapes[k].plan_area_mm2,
                 movesWithStock(s, c, segment)};
    });
  });
  std::vector<FoundFloor> floors;
  for (std::size_t k = 0; k < best.size(); ++k) {
    if (found[k]) floors.push_back(best[k]);
  }
  std::stable_sort(floors.begin(), floors.end(),
                   [](const FoundFloor& a, const FoundFloor& b) { return a.worst_mm < b.worst_mm; });
  return floors;
}

}  // namespace provecut::pieces
