#include "sim/tabs/least_cut.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <unordered_map>

#include "sim/numeric/min_cut.h"
#include "sim/stock/dexel_walk.h"
#include "sim/tabs/web_band.h"

namespace provecut::pieces {

namespace {

using cutting::Cell;

// The direction of the section is taken from what lies within this of a side.
constexpr double direction_reach_mm = 1.5;
// Capacities are whole numbers of this: the same on every machine.
constexpr double unit_mm2 = 1e-6;
// What is thicker than a skin by this is a tab in it (our estimate).
constexpr double tab_in_skin_mm = 0.5;
// Of a section with more sides the web is all of its band.
constexpr std::size_t max_sides = 3000;

// By the mean heights, which know how much of a dexel a wall takes: halfway between two dexels that is the mean of
// both. Where centres touch, no more than they do.
float meanOverlap_mm(const cutting::DexelField& f, Cell a, Cell b) {
  const float overlap = cutting::overlap_mm(f, a, b);
  if (f.undercut.holds(a) || f.undercut.holds(b)) return std::max(0.0F, overlap);
  const float of_a = f.top_mean[a] - f.floor_mean[a], of_b = f.top_mean[b] - f.floor_mean[b];
  const float least = std::min(f.top_mean[a], f.top_mean[b]) - std::max(f.floor_mean[a], f.floor_mean[b]);
  if (least <= cutting::no_material_mm) return 0;
  const float mean = least + std::abs(of_a - of_b) / 2;
  if (overlap > cutting::no_material_mm) return std::min(mean, overlap);
  return std::max(0.0F, cutting::throughGap_mm(f, a, b, mean));
}

// A step to another dexel, with the dexels that a straight line to it goes through, and the length that a contact of
// this direction stands for, in cells.
struct Step {
  int x, y;
  double weight;
};

// The sixteen directions are apart by 26.57 and 18.43 degrees in turn; each stands for half the angle to both sides.
std::array<Step, 16> steps() {
  constexpr double pi = std::numbers::pi;
  const double knight = std::atan2(1, 2);
  const double straight = knight, oblique = pi / 8, diagonal = pi / 4 - knight;
  std::array<Step, 16> all{};
  std::size_t n = 0;
  for (int x = -2; x <= 2; ++x) {
    for (int y = -2; y <= 2; ++y) {
      const int reach = std::max(std::abs(x), std::abs(y)), least = std::min(std::abs(x), std::abs(y));
      if (reach == 0 || (reach == 2 && least != 1)) continue;
      const double angle = reach == 2 ? oblique : least == 1 ? diagonal : straight;
      all[n++] = {x, y, angle / (2 * std::hypot(x, y))};
    }
  }
  return all;
}

// What a straight line from one dexel to another goes through, at the least. Beside a corner: the better way round it.
float throughStep(const cutting::DexelField& f, int x, int y, const Step& s) {
  const auto way = [&](int mx, int my) {
    return std::min(meanOverlap_mm(f, f.index(x, y), f.index(x + mx, y + my)),
                    meanOverlap_mm(f, f.index(x + mx, y + my), f.index(x + s.x, y + s.y)));
  };
  if (std::abs(s.x) + std::abs(s.y) == 1) return meanOverlap_mm(f, f.index(x, y), f.index(x + s.x, y + s.y));
  if (std::abs(s.x) == 1 && std::abs(s.y) == 1) return std::max(way(s.x, 0), way(0, s.y));
  const int mx = s.x / 2, my = s.y / 2;  // along the longer side
  const Cell first = f.index(x + mx, y + my), second = f.index(x + s.x - mx, y + s.y - my);
  return std::min({meanOverlap_mm(f, f.index(x, y), first), meanOverlap_mm(f, first, second),
                   meanOverlap_mm(f, second, f.index(x + s.x, y + s.y))});
}

// Per dexel of the view: 1 on the region's side of the cut.
Mask innerSide(const BandView& v) {
  const cutting::DexelField& f = v.field;
  std::vector<std::uint32_t> node(f.top.size(), 0);
  std::vector<Cell> cells;
  cutting::eachCell(f, [&](Cell c) {
    if (v.side[c] != BandSide::between) return;
    node[c] = static_cast<std::uint32_t>(cells.size());
    cells.push_back(c);
  });
  const double cell = std::sqrt(f.cellArea_mm2());
  FlowGraph g;
  g.from_source.assign(cells.size(), 0);
  g.to_sink.assign(cells.size(), 0);
  const std::array<Step, 16> all = steps();
  for (std::uint32_t k = 0; k < cells.size(); ++k) {
    const auto [x, y] = f.place(cells[k]);
    for (const Step& s : all) {
      if (!f.inside(x + s.x, y + s.y)) continue;
      const Cell other = f.index(x + s.x, y + s.y);
      const BandSide side = v.side[other];
      if (side == BandSide::none || (side == BandSide::between && node[other] < k)) continue;
      const std::int64_t capacity = std::llround(double{throughStep(f, x, y, s)} * s.weight * cell / unit_mm2);
      if (capacity == 0) continue;
      if (side == BandSide::inner) g.from_source[k] += capacity;
      if (side == BandSide::outer) g.to_sink[k] += capacity;
      if (side == BandSide::between) g.edges.push_back({k, node[other], capacity});
    }
  }
  const std::vector<std::uint8_t> at_source = sourceSide(g);
  Mask inner(f.top.size(), 0);
  for (Cell c = 0; c < inner.size(); ++c)
    inner[c] = v.side[c] == BandSide::between ? at_source[node[c]] : v.side[c] == BandSide::inner;
  return inner;
}

// The sides of dexels that the cut goes along. `forced`: also where whole wood meets whole wood.
std::vector<Crossing> cutSides(const BandView& v, const Mask& inner, bool forced) {
  const cutting::DexelField& f = v.field;
  std::vector<Crossing> sides;
  cutting::eachCell(f, [&](Cell c) {
    if (!inner[c]) return;
    cutting::beside(f, c, [&](Cell n) {
      if (v.side[n] == BandSide::none || inner[n]) return;
      if (!forced && v.side[c] != BandSide::between && v.side[n] != BandSide::between) return;
      if (meanOverlap_mm(f, c, n) > 0) sides.push_back({c, n});
    });
  });
  return sides;
}

SetupPoint2 centreOf(const cutting::DexelField& f, Cell c) {
  const auto [x, y] = f.place(c);
  return f.centre(x, y);
}

SetupPoint2 middle(const cutting::DexelField& f, const Crossing& s) {
  return centreOf(f, s.inner) + (centreOf(f, s.outer) - centreOf(f, s.inner)) * 0.5;
}

// Sides by where they lie, in squares.
struct SideMap {
  const cutting::DexelField& field;
  const std::vector<Crossing>& sides;
  double square_mm;
  std::unordered_map<std::uint64_t, std::vector<std::uint32_t>> squares;
};

std::uint64_t squareAt(int x, int y) {
  return (static_cast<std::uint64_t>(static_cast<std::uint32_t>(x)) << 32) | static_cast<std::uint32_t>(y);
}

SideMap mapOf(const cutting::DexelField& f, const std::vector<Crossing>& sides, double square_mm) {
  SideMap m{f, sides, square_mm, {}};
  for (std::uint32_t k = 0; k < sides.size(); ++k) {
    const SetupPoint2 p = middle(f, sides[k]);
    m.squares[squareAt(static_cast<int>(p.x / square_mm), static_cast<int>(p.y / square_mm))].push_back(k);
  }
  return m;
}

// True if the predicate is of any side in the squares about a place: of all that are no farther than a square is wide.
template <class Predicate>
bool anyAbout(const SideMap& m, SetupPoint2 p, const Predicate& is) {
  const int x = static_cast<int>(p.x / m.square_mm), y = static_cast<int>(p.y / m.square_mm);
  for (int dy = -1; dy <= 1; ++dy) {
    for (int dx = -1; dx <= 1; ++dx) {
      const auto square = m.squares.find(squareAt(x + dx, y + dy));
      if (square == m.squares.end()) continue;
      for (const std::uint32_t k : square->second) {
        if (is(m.sides[k])) return true;
      }
    }
  }
  return false;
}

// The way across the section near a side: of the sides about it, the nearer the more.
Vec2 acrossNear(const SideMap& m, const Crossing& side) {
  const SetupPoint2 p = middle(m.field, side);
  Vec2 sum{};
  anyAbout(m, p, [&](const Crossing& s) {
    const double off = length(middle(m.field, s) - p) / direction_reach_mm;
    if (off >= 1) return false;
    const Vec2 way = centreOf(m.field, s.outer) - centreOf(m.field, s.inner);
    sum = sum + way * ((1 - off * off) / length(way));
    return false;
  });
  return sum;
}

// How far the nearest whole wood of one side is from a place; the view's size where there is none.
double toWhole(const BandView& v, SetupPoint2 p, BandSide side) {
  double best = std::hypot(v.field.nx * v.field.cell_x_mm, v.field.ny * v.field.cell_y_mm);
  cutting::eachCell(v.field, [&](Cell c) {
    if (v.side[c] != side || v.field.thickness(c) <= cutting::no_material_mm) return;
    const Vec2 way = centreOf(v.field, c) - p;
    if (std::abs(way.x) < best && std::abs(way.y) < best) best = std::min(best, length(way));  // which takes long
  });
  return best;
}

// A stretch of a section of one thickness.
struct Stretch {
  double height_mm, width_mm;
};

// How much of the section is no thicker than a skin: tabs may stand in it.
void measureSkin(std::vector<Stretch> stretches, Section& s) {
  std::sort(stretches.begin(), stretches.end(),
            [](const Stretch& a, const Stretch& b) { return a.height_mm < b.height_mm; });
  for (const Stretch& t : stretches) s.thin_length_mm += t.height_mm <= double{skin_mm} ? t.width_mm : 0;
  double along_mm = 0;
  for (const Stretch& t : stretches) {
    if (along_mm < s.thin_length_mm / 2) s.thin_mm = t.height_mm;
    along_mm += t.width_mm;
    s.thick_length_mm += t.height_mm > s.thin_mm + tab_in_skin_mm ? t.width_mm : 0;
  }
}

Section measured(const BandView& v, const std::vector<Crossing>& sides) {
  const cutting::DexelField& f = v.field;
  const SideMap m = mapOf(f, sides, direction_reach_mm);
  Section s;
  double heights = 0, weights = 0;
  Vec2 sum{};
  std::vector<Stretch> stretches;
  for (const Crossing& side : sides) {
    const Vec2 across = acrossNear(m, side), way = centreOf(f, side.outer) - centreOf(f, side.inner);
    const double share = length(across) > 0 ? std::abs(dot(across, way)) / (length(across) * length(way)) : 1;
    const double width = share * (way.y == 0 ? f.cell_y_mm : f.cell_x_mm);
    s.area_mm2 += width * double{meanOverlap_mm(f, side.inner, side.outer)};
    const double height = double{cutting::overlap_mm(f, side.inner, side.outer)};
    if (height <= double{cutting::no_material_mm}) continue;
    heights += width * height;
    weights += width;
    stretches.push_back({height, width});
    sum = sum + (middle(f, side) - SetupPoint2{}) * width;
    s.at.z += width * double{std::min(f.top[side.inner], f.top[side.outer])};
  }
  if (weights <= 0) return s;  // only the edges of walls touch
  s.at = {v.low.x + sum.x / weights, v.low.y + sum.y / weights, s.at.z / weights};
  s.thickness_mm = heights / weights;
  s.length_mm = s.area_mm2 / s.thickness_mm;
  s.across = acrossNear(m, sides[sides.size() / 2]);
  measureSkin(std::move(stretches), s);
  return s;
}

// From whole wood to whole wood at the middle of the cut.
double across_mm(const BandView& v, const std::vector<Crossing>& sides) {
  const double cell = std::max(v.field.cell_x_mm, v.field.cell_y_mm);
  const SetupPoint2 p = middle(v.field, sides[sides.size() / 2]);
  return std::max(cell, toWhole(v, p, BandSide::inner) + toWhole(v, p, BandSide::outer) - cell);
}

// The section about some sides of a cut, sought once more on finer cells where the web is but few cells long.
Section closerSection(const SectionSearch& search, const BandView& v, const Mask& inner,
                      const std::vector<Crossing>& sides) {
  const int finer = finerBy(v, sides.size());
  if (finer == 1) return measured(v, sides);
  const BandView closer = closerTo(search, v, inner, sides, finer);
  const std::vector<Crossing> there = cutSides(closer, innerSide(closer), false);
  return measured(closer, there);
}

// The dexels of the band within half the way across the section.
std::vector<Cell> webOf(const SectionSearch& s, const WebBand& band, const BandView& v,
                        const std::vector<Crossing>& sides, double across_mm) {
  if (sides.size() > max_sides) return band.cells;
  const double reach = across_mm / 2 + std::max(s.field.cell_x_mm, s.field.cell_y_mm);
  std::vector<Cell> web;
  const SideMap m = mapOf(v.field, sides, 1.001 * reach);  // a little more than that, because of rounding
  std::copy_if(band.cells.begin(), band.cells.end(), std::back_inserter(web), [&](Cell c) {
    const SetupPoint2 at = SetupPoint2{} + (centreOf(s.field, c) - v.low);
    return anyAbout(m, at, [&](const Crossing& side) { return length(middle(v.field, side) - at) <= reach; });
  });
  return web;
}

}  // namespace

std::vector<Section> leastSections(const SectionSearch& search, Label region, const std::vector<bool>& beyond) {
  std::vector<Section> sections;
  const std::vector<WebBand> bands = webBands(search, region, beyond);
  for (std::size_t k = 0; k < bands.size(); ++k) {
    const BandView view = closeUpOf(search, bands, k, region, beyond);
    const Mask inner = innerSide(view);
    for (const std::vector<Crossing>& sides : thatLieTogether(view.field, cutSides(view, inner, true))) {
      Section s = closerSection(search, view, inner, sides);
      if (s.thickness_mm <= 0) continue;
      s.across_mm = across_mm(view, sides);
      s.web = webOf(search, bands[k], view, sides, s.across_mm);
      s.about = bands[k].narrow ? s.web : bands[k].cells;
      sections.push_back(std::move(s));
    }
  }
  return sections;
}

}  // namespace provecut::pieces
