#include "sim/pieces/webs.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "sim/stock/dexel_walk.h"

namespace provecut::pieces {

namespace {

using cutting::Cell;

// Thicker than this share of the stock, what stays in a kerf is no web (common practice: tabs of a quarter to a half).
constexpr double web_share = 0.6;
// Webs reach this far from the nearest opened dexel; what is farther away is a pocket's floor.
constexpr double web_reach_mm = 12;
// The next four: our estimates, no source.
// What the program itself did not cut is a web only where it is no larger than a tab, and no wider than a kerf and a
// half.
constexpr double max_web_mm2 = 400, kerfs_wide = 1.5;
// Wood of any height is a neck where it is no wider than this, and a thick web where a cutter took off at least a
// little.
constexpr double neck_mm = 4;
constexpr double thick_share = 0.95;

// Cells within `reach` of those that `is_set` names, in both directions of the raster: along the rows, then from row to
// row.
template <class IsSet>
Mask within(const cutting::DexelField& f, double reach_mm, const IsSet& is_set) {
  Mask near(f.top.size(), 0);
  const int rx = static_cast<int>(reach_mm / f.cell_x_mm), ry = static_cast<int>(reach_mm / f.cell_y_mm);
  constexpr int never = std::numeric_limits<int>::min() / 2;
  for (int y = 0; y < f.ny; ++y) {
    int begin = 0;  // not marked yet
    for (int x = 0; x < f.nx; ++x) {
      if (!is_set(f.index(x, y))) continue;
      const int end = std::min(f.nx, x + rx + 1);
      for (int i = std::max(begin, x - rx); i < end; ++i) near[f.index(i, y)] = 1;
      begin = end;
    }
  }
  if (ry == 0) return near;
  // What a row was in itself stays in the lowest bit, what rows above and below make of it goes into the next.
  std::vector<int> last(f.nx, never);
  const auto pass = [&](int from, int to, int step) {
    std::fill(last.begin(), last.end(), never);
    for (int y = from; y != to; y += step) {
      std::uint8_t* row = near.data() + f.index(0, y);
      for (std::size_t x = 0; x < last.size(); ++x) {
        if (row[x] & 1) last[x] = y;
        if (std::abs(y - last[x]) <= ry) row[x] |= 2;
      }
    }
  };
  pass(0, f.ny, 1);
  pass(f.ny - 1, -1, -1);
  for (std::uint8_t& n : near) n = n != 0;
  return near;
}

// Takes out of `web` those cells of `doubtful` whose web is too large for a tab, wider than a kerf, or nowhere cut
// through beside it.
void keepTabsOnly(const TabbedSearch& s, const Mask& doubtful, Mask& web) {
  const cutting::DexelField& f = s.after;
  const Mask solid = inverted(web);
  const Pieces webs = labelPieces(f, &solid);
  Mask at_opening(webs.shapes.size(), 0);
  cutting::eachCell(f, [&](Cell c) {
    if (!web[c]) return;
    cutting::beside(f, c, [&](Cell n) {
      if (isOpen(f, n)) at_opening[webs.label[c] - 1] = 1;
    });
  });
  cutting::eachCell(f, [&](Cell c) {
    if (!web[c] || !doubtful[c]) return;
    const PieceShape& shape = webs.shape(webs.label[c]);
    const Vec3 size = shape.box.high - shape.box.low;
    if (!at_opening[webs.label[c] - 1] || shape.plan_area_mm2 > max_web_mm2 ||
        std::min(size.x, size.y) > kerfs_wide * s.kerf_mm)
      web[c] = 0;
  });
}

}  // namespace

Mask inverted(const Mask& mask) {
  Mask out(mask.size());
  std::transform(mask.begin(), mask.end(), out.begin(), [](std::uint8_t m) { return m == 0; });
  return out;
}

Mask thinWebs(const TabbedSearch& s) {
  const cutting::DexelField& f = s.after;
  const double thick = web_share * f.thickness_mm;
  Mask web(f.top.size(), 0), earlier(f.top.size(), 0);
  bool any_here = false, any_earlier = false;
  cutting::eachCell(f, [&](Cell c) {
    const float t = cutting::solid_mm(f, c);
    if (t <= cutting::no_material_mm || double{t} > thick) return;
    web[c] = 1;
    if (cutHere(s, c)) {
      any_here = true;
    } else {
      earlier[c] = any_earlier = true;
    }
  });
  if (any_here) {
    const Mask near = within(f, web_reach_mm, [&](Cell c) { return isOpen(f, c) && cutHere(s, c); });
    cutting::eachCell(f, [&](Cell c) {
      if (web[c] && !earlier[c] && !near[c] && cutting::solid_mm(f, c) > skin_mm) web[c] = 0;
    });
  }
  if (any_earlier) {
    const Mask near = within(f, web_reach_mm, [&](Cell c) { return isOpen(f, c); });
    any_earlier = false;
    cutting::eachCell(f, [&](Cell c) {
      if (earlier[c] && !near[c]) earlier[c] = web[c] = 0;
      any_earlier = any_earlier || earlier[c];
    });
  }
  if (any_earlier) keepTabsOnly(s, earlier, web);
  return web;
}

Mask neckWebs(const TabbedSearch& s, const Mask& thin) {
  const cutting::DexelField& f = s.after;
  const auto open = [&](Cell c) { return isOpen(f, c); };
  const Mask eroded = within(f, neck_mm / 2, open);
  const Mask opened = within(f, neck_mm / 2, [&](Cell c) { return !open(c) && !eroded[c]; });
  const Mask near = within(f, web_reach_mm, open);
  const double thick = thick_share * f.thickness_mm;
  Mask web = thin, necks(f.top.size(), 0);
  cutting::eachCell(f, [&](Cell c) {
    if (thin[c] || open(c)) return;
    const bool lowered = near[c] && double{cutting::solid_mm(f, c)} <= thick;
    if (opened[c] && !lowered) return;
    web[c] = necks[c] = 1;
  });
  keepTabsOnly(s, necks, web);
  return web;
}

}  // namespace provecut::pieces
