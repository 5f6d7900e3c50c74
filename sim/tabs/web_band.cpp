#include "sim/tabs/web_band.h"

#include <algorithm>
#include <cmath>
#include <deque>
#include <unordered_map>

#include "sim/numeric/union_find.h"
#include "sim/stock/dexel_walk.h"

namespace provecut::pieces {

namespace {

using cutting::Cell;

// Webs at least this high, as a share of the wood on either side, are necks: their width counts too.
constexpr double high_share = 0.9;
// A close-up's cells: a third of the narrowest cutter there, so many in a web's length (more for its measure than to
// find it), but neither coarser nor finer nor more than this.
constexpr double cells_per_cutter = 3, cells_per_web = 10, cells_per_measure = 40;
constexpr double coarsest_mm = 0.25, finest_mm = 0.03, max_cells = 4e6, max_between = 8e3, max_cell_cuts = 3e7;
constexpr int margin_cells = 3;
constexpr double low_by_mm = 0.01;  // less is the rounding of heights

// The region's crossings, and what is low beside them.
struct Crossings {
  const SectionSearch& search;
  Label region;
  const std::vector<bool>& beyond;
  double inner_mm = 0, outer_mm = 0;  // how high the wood is on either side
};

bool isInner(const Crossings& c, Cell cell) {
  return c.search.regions.apart.label[cell] == c.region;
}

bool isOuter(const Crossings& c, Cell cell) {
  const Label l = c.search.regions.apart.label[cell];
  return l != 0 && l != c.region && c.beyond[l];
}

double heightOf(const PieceShape& shape) {
  return shape.box.high.z - shape.box.low.z;
}

// From the crossings into low or narrow dexels, as far as the section may lie from them.
WebBand bandAbout(const Crossings& c, std::vector<Crossing> crossings) {
  const cutting::DexelField& f = c.search.field;
  double highest = 0;
  for (const Crossing& k : crossings) highest = std::max(highest, double{cutting::overlap_mm(f, k.inner, k.outer)});
  const bool narrow = highest > high_share * std::min(c.inner_mm, c.outer_mm);
  const auto isWeak = [&](Cell cell) {
    const double low = (highest + (isInner(c, cell) ? c.inner_mm : c.outer_mm)) / 2;
    return double{cutting::solid_mm(f, cell)} < low - low_by_mm ||
           (narrow && c.search.opening_distance_mm[cell] < static_cast<float>(neck_mm / 2));
  };
  WebBand band{std::move(crossings), {}, 0, narrow};
  band.least_crossings = band.crossings.size();
  const double step = std::max(f.cell_x_mm, f.cell_y_mm);
  std::unordered_map<Cell, double> way;
  std::deque<Cell> open;
  const auto reach = [&](Cell cell, double to, bool inner) {
    if ((inner ? !isInner(c, cell) : !isOuter(c, cell)) || !isWeak(cell)) return;
    if (!way.try_emplace(cell, to).second) return;
    band.cells.push_back(cell);
    open.push_back(cell);
  };
  for (const Crossing& k : band.crossings) {
    reach(k.inner, 0, true);
    reach(k.outer, 0, false);
  }
  while (!open.empty()) {
    const Cell cell = open.front();
    open.pop_front();
    const double to = way.at(cell) + step;
    if (to > c.search.reach_mm) continue;
    cutting::beside(f, cell, [&](Cell n) { reach(n, to, isInner(c, cell)); });
  }
  return band;
}

}  // namespace

std::vector<std::vector<Crossing>> thatLieTogether(const cutting::DexelField& f,
                                                   const std::vector<Crossing>& crossings) {
  UnionFind sets(crossings.size());
  for (const bool inner : {true, false}) {
    std::unordered_map<Cell, std::uint32_t> first;
    const auto cellOf = [&](std::uint32_t k) { return inner ? crossings[k].inner : crossings[k].outer; };
    for (std::uint32_t k = 0; k < crossings.size(); ++k) {
      const auto [there, added] = first.try_emplace(cellOf(k), k);
      if (!added) sets.join(k, there->second);
    }
    for (const auto& [c, k] : first) {
      const auto [x, y] = f.place(c);
      for (int dy = -1; dy <= 1; ++dy) {
        for (int dx = -1; dx <= 1; ++dx) {
          if (!f.inside(x + dx, y + dy)) continue;
          if (const auto n = first.find(f.index(x + dx, y + dy)); n != first.end()) sets.join(k, n->second);
        }
      }
    }
  }
  std::vector<std::vector<Crossing>> groups;
  std::unordered_map<std::uint32_t, std::size_t> group;
  for (std::uint32_t k = 0; k < crossings.size(); ++k) {
    const auto [there, added] = group.try_emplace(sets.find(k), groups.size());
    if (added) groups.emplace_back();
    groups[there->second].push_back(crossings[k]);
  }
  return groups;
}

std::vector<WebBand> webBands(const SectionSearch& s, Label region, const std::vector<bool>& beyond) {
  Crossings c{s, region, beyond, heightOf(s.regions.apart.shape(region)), 0};
  std::vector<Crossing> crossings;
  for (const Crossing& k : s.regions.crossings[region - 1]) {
    const Label there = s.regions.apart.label[k.outer];
    if (!beyond[there]) continue;
    crossings.push_back(k);
    c.outer_mm = std::max(c.outer_mm, heightOf(s.regions.apart.shape(there)));
  }
  std::vector<WebBand> bands;
  std::unordered_map<Cell, std::uint32_t> in;
  UnionFind touching;
  for (std::vector<Crossing>& group : thatLieTogether(s.field, crossings)) {
    const std::uint32_t number = touching.add();
    bands.push_back(bandAbout(c, std::move(group)));
    for (const Cell cell : bands.back().cells) {
      const auto [there, added] = in.try_emplace(cell, number);
      if (!added) touching.join(number, there->second);
    }
  }
  // Bands that share dexels are one: a section of either would go through both.
  std::vector<WebBand> apart;
  std::unordered_map<std::uint32_t, std::size_t> place;
  for (std::uint32_t k = 0; k < bands.size(); ++k) {
    const auto [there, added] = place.try_emplace(touching.find(k), apart.size());
    if (added) apart.push_back({{}, {}, bands[k].least_crossings, false});
    WebBand& whole = apart[there->second];
    whole.narrow = whole.narrow || bands[k].narrow;
    whole.least_crossings = std::min(whole.least_crossings, bands[k].least_crossings);
    whole.crossings.insert(whole.crossings.end(), bands[k].crossings.begin(), bands[k].crossings.end());
    whole.cells.insert(whole.cells.end(), bands[k].cells.begin(), bands[k].cells.end());
  }
  for (WebBand& band : apart) {
    std::sort(band.cells.begin(), band.cells.end());
    band.cells.erase(std::unique(band.cells.begin(), band.cells.end()), band.cells.end());
  }
  return apart;
}

namespace {

// A rectangle of dexels: [x0, x1) by [y0, y1).
struct Dexels {
  int x0 = 0, y0 = 0, x1 = 0, y1 = 0;
};

Dexels dexelsAbout(const cutting::DexelField& f, const WebBand& band) {
  Dexels d{f.nx, f.ny, 0, 0};
  const auto add = [&](Cell c) {
    const auto [x, y] = f.place(c);
    d = {std::min(d.x0, x), std::min(d.y0, y), std::max(d.x1, x + 1), std::max(d.y1, y + 1)};
  };
  for (const Cell c : band.cells) add(c);
  for (const Crossing& c : band.crossings) {
    add(c.inner);
    add(c.outer);
  }
  return {std::max(0, d.x0 - margin_cells), std::max(0, d.y0 - margin_cells), std::min(f.nx, d.x1 + margin_cells),
          std::min(f.ny, d.y1 + margin_cells)};
}

// What the cells of a close-up hang on.
struct Fineness {
  double wanted_mm = 0, narrowest_mm = 0;  // narrowest_mm: of the cutters; 0: none
  double cheap_mm = 0;                     // finer ones take long
  double dexels = 0, between = 0;          // how many it has
};

// Into how many parts the sides of dexels are divided.
int dividedBy(const cutting::DexelField& f, const Fineness& fine) {
  const double cell = std::max(f.cell_x_mm, f.cell_y_mm);
  double wanted = std::min(coarsest_mm, fine.wanted_mm);
  if (fine.narrowest_mm > 0) wanted = std::min(wanted, fine.narrowest_mm / cells_per_cutter);
  wanted = std::max({wanted, finest_mm, fine.cheap_mm});
  const double most = std::sqrt(std::min(max_cells / fine.dexels, max_between / std::max(1.0, fine.between)));
  return static_cast<int>(std::clamp(std::ceil(cell / wanted - 1e-9), 1.0, std::max(1.0, most)));
}

// What each dexel of the rectangle is to the band; those that are open at their centre may be partly between.
std::vector<BandSide> sidesOf(const SectionSearch& s, const std::vector<WebBand>& bands, std::size_t which,
                              const Dexels& d, Label region, const std::vector<bool>& beyond) {
  const cutting::DexelField& f = s.field;
  std::vector<BandSide> sides;
  for (int y = d.y0; y < d.y1; ++y) {
    for (int x = d.x0; x < d.x1; ++x) {
      const Label l = s.regions.apart.label[f.index(x, y)];
      sides.push_back(l == 0        ? BandSide::between
                      : l == region ? BandSide::inner
                      : beyond[l]   ? BandSide::outer
                                    : BandSide::none);
    }
  }
  const auto set = [&](Cell c, BandSide side) {
    const auto [x, y] = f.place(c);
    if (x < d.x0 || x >= d.x1 || y < d.y0 || y >= d.y1) return;
    sides[static_cast<std::size_t>(y - d.y0) * (d.x1 - d.x0) + x - d.x0] = side;
  };
  for (std::size_t k = 0; k < bands.size(); ++k) {
    if (k == which) continue;
    for (const Cell c : bands[k].cells) set(c, BandSide::none);
    for (const Crossing& c : bands[k].crossings) {
      set(c.inner, BandSide::none);
      set(c.outer, BandSide::none);
    }
  }
  for (const Crossing& c : bands[which].crossings) {
    set(c.inner, BandSide::inner);
    set(c.outer, BandSide::outer);
  }
  for (const Cell c : bands[which].cells) set(c, BandSide::between);
  return sides;
}

}  // namespace

BandView closeUpOf(const SectionSearch& s, const std::vector<WebBand>& bands, std::size_t which, Label region,
                   const std::vector<bool>& beyond) {
  const cutting::DexelField& f = s.field;
  const WebBand& band = bands[which];
  const Dexels d = dexelsAbout(f, band);
  const std::vector<BandSide> sides = sidesOf(s, bands, which, d, region, beyond);
  BandView view;
  view.low = {d.x0 * f.cell_x_mm, d.y0 * f.cell_y_mm};
  const cutting::CloseUpPlace place =
      cutting::placeOf(s.past, view.low, {(d.x1 - d.x0) * f.cell_x_mm, (d.y1 - d.y0) * f.cell_y_mm});
  view.narrowest_mm = place.narrowest_mm;
  const double length_mm = static_cast<double>(band.least_crossings) * std::max(f.cell_x_mm, f.cell_y_mm);
  view.as_raster = cutting::isCostly(s.past, place);
  const Fineness fine{length_mm / cells_per_web, place.narrowest_mm, cutting::cheapCell_mm(place, max_cell_cuts),
                      static_cast<double>(sides.size()), static_cast<double>(band.cells.size())};
  const int finer = view.as_raster ? 1 : dividedBy(f, fine);
  const Vec2 cell{f.cell_x_mm / finer, f.cell_y_mm / finer};
  view.field = view.as_raster ? cutting::enlarged(f, place, cell) : cutting::closeUp(s.past, place, cell);
  view.side.assign(view.field.top.size(), BandSide::none);
  cutting::eachCell(view.field, [&](Cell c) {
    const auto [x, y] = view.field.place(c);
    const BandSide side = sides[static_cast<std::size_t>(y / finer) * (d.x1 - d.x0) + x / finer];
    if (side != BandSide::between || view.field.meanThickness(c) > cutting::no_material_mm) view.side[c] = side;
  });
  return view;
}

int finerBy(const BandView& v, std::size_t sides) {
  if (v.as_raster) return 1;
  const double cell = std::max(v.field.cell_x_mm, v.field.cell_y_mm), count = static_cast<double>(sides);
  return dividedBy(v.field, {count * cell / cells_per_measure, v.narrowest_mm, 0, 25 * count, 5 * count});
}

BandView closerTo(const SectionSearch& s, const BandView& v, const Mask& inner, const std::vector<Crossing>& sides,
                  int finer) {
  const cutting::DexelField& f = v.field;
  Mask near(f.top.size(), 0);
  Dexels d{f.nx, f.ny, 0, 0};
  for (const Crossing& side : sides) {
    for (const Cell c : {side.inner, side.outer}) {
      const auto [x, y] = f.place(c);
      d = {std::min(d.x0, x - margin_cells), std::min(d.y0, y - margin_cells), std::max(d.x1, x + 1 + margin_cells),
           std::max(d.y1, y + 1 + margin_cells)};
      for (int dy = -2; dy <= 2; ++dy) {
        for (int dx = -2; dx <= 2; ++dx) {
          if (f.inside(x + dx, y + dy)) near[f.index(x + dx, y + dy)] = 1;
        }
      }
    }
  }
  d = {std::max(0, d.x0), std::max(0, d.y0), std::min(f.nx, d.x1), std::min(f.ny, d.y1)};
  BandView closer;
  closer.low = v.low + Vec2{d.x0 * f.cell_x_mm, d.y0 * f.cell_y_mm};
  closer.narrowest_mm = v.narrowest_mm;
  const cutting::CloseUpPlace place =
      cutting::placeOf(s.past, closer.low, {(d.x1 - d.x0) * f.cell_x_mm, (d.y1 - d.y0) * f.cell_y_mm});
  const double cheap_mm = cutting::cheapCell_mm(place, max_cell_cuts);
  finer = std::clamp(static_cast<int>(f.cell_x_mm / std::max(cheap_mm, finest_mm)), 1, finer);
  closer.field = cutting::closeUp(s.past, place, {f.cell_x_mm / finer, f.cell_y_mm / finer});
  closer.side.assign(closer.field.top.size(), BandSide::none);
  cutting::eachCell(closer.field, [&](Cell c) {
    const auto [x, y] = closer.field.place(c);
    const Cell there = f.index(d.x0 + x / finer, d.y0 + y / finer);
    if (near[there]) {
      if (closer.field.meanThickness(c) > cutting::no_material_mm) closer.side[c] = BandSide::between;
    } else if (v.side[there] != BandSide::none) {
      closer.side[c] = inner[there] ? BandSide::inner : BandSide::outer;
    }
  });
  return closer;
}

}  // namespace provecut::pieces
