#include "sim/pieces/least_cut.h"

#include <algorithm>
#include <array>
#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/boykov_kolmogorov_max_flow.hpp>
#include <cmath>
#include <deque>
#include <limits>
#include <numbers>
#include <unordered_map>

#include "sim/numeric/union_find.h"
#include "sim/stock/dexel_walk.h"

namespace provecut::pieces {

namespace {

using cutting::Cell;

// The direction of the section is taken from what lies within this of a side.
constexpr double direction_reach_mm = 1.5;
// Capacities are whole numbers of this: the same on every machine.
constexpr double unit_mm2 = 1e-6;

enum class Kind : std::uint8_t { none, between, inner, outer };

// The dexels about the crossings.
struct Band {
  const SectionSearch& search;
  Label region;
  const std::vector<bool>& beyond;
  double low_inner_mm = 0, low_outer_mm = 0;  // dexels lower than this are low
  bool narrow = false;                        // webs are as high as the wood: necks count
  std::vector<Crossing> crossings;
  std::vector<Cell> cells;                        // that the section may go through
  std::unordered_map<Cell, std::uint32_t> place;  // in `cells`
};

const cutting::DexelField& fieldOf(const Band& b) {
  return b.search.field;
}

bool isInner(const Band& b, Cell c) {
  return b.search.regions.apart.label[c] == b.region;
}

bool isOuter(const Band& b, Cell c) {
  const Label l = b.search.regions.apart.label[c];
  return l != 0 && l != b.region && b.beyond[l];
}

// Low or narrow: the section may go through it.
bool isWeak(const Band& b, Cell c) {
  const double low = isInner(b, c) ? b.low_inner_mm : b.low_outer_mm;
  if (double{cutting::solid_mm(fieldOf(b), c)} < low) return true;
  return b.narrow && b.search.opening_distance_mm[c] < static_cast<float>(neck_mm / 2);
}

Kind kindOf(const Band& b, Cell c) {
  if (b.place.contains(c)) return Kind::between;
  if (isInner(b, c)) return Kind::inner;
  return isOuter(b, c) ? Kind::outer : Kind::none;
}

void addCell(Band& b, Cell c) {
  if (b.place.try_emplace(c, static_cast<std::uint32_t>(b.cells.size())).second) b.cells.push_back(c);
}

// From the crossings into weak dexels, as far as the section may lie from them.
void spreadFrom(Band& b, bool inner) {
  const cutting::DexelField& f = fieldOf(b);
  const double step = std::max(f.cell_x_mm, f.cell_y_mm);
  std::deque<std::pair<Cell, double>> open;
  const auto reach = [&](Cell c, double way) {
    if ((inner ? isInner(b, c) : isOuter(b, c)) && isWeak(b, c) && !b.place.contains(c)) {
      addCell(b, c);
      open.push_back({c, way});
    }
  };
  for (const Crossing& s : b.crossings) reach(inner ? s.inner : s.outer, 0);
  while (!open.empty()) {
    const auto [c, way] = open.front();
    open.pop_front();
    if (way + step > b.search.reach_mm) continue;
    cutting::beside(f, c, [&, way = way](Cell n) { reach(n, way + step); });
  }
}

// By the mean heights, which know how much of a dexel a wall takes: halfway between two dexels that is the mean of
// both. Where centres touch, no more than they do.
float meanOverlap_mm(const cutting::DexelField& f, Cell a, Cell b) {
  const float centres = cutting::overlap_mm(f, a, b);
  if (f.undercut.holds(a) || f.undercut.holds(b)) return std::max(0.0F, centres);
  const float of_a = f.top_mean[a] - f.floor_mean[a], of_b = f.top_mean[b] - f.floor_mean[b];
  const float least = std::min(f.top_mean[a], f.top_mean[b]) - std::max(f.floor_mean[a], f.floor_mean[b]);
  if (least <= cutting::no_material_mm) return 0;
  const float mean = least + std::abs(of_a - of_b) / 2;
  if (centres > cutting::no_material_mm) return std::min(mean, centres);
  return std::max(0.0F, cutting::throughGap_mm(f, a, b, mean));
}

// Dexels that a wall goes through beside its wood: open at their centre, but not all of them is.
void addPartlyOpen(Band& b) {
  const cutting::DexelField& f = fieldOf(b);
  const std::size_t solid = b.cells.size();
  for (std::size_t k = 0; k < solid; ++k) {
    cutting::beside(f, b.cells[k], [&](Cell n) {
      if (b.search.regions.apart.label[n] == 0 && f.meanThickness(n) > cutting::no_material_mm) addCell(b, n);
    });
  }
}

Band bandOf(const SectionSearch& s, Label region, const std::vector<bool>& beyond) {
  Band b{s, region, beyond, 0, 0, false, {}, {}, {}};
  const Pieces& apart = s.regions.apart;
  double height = 0, beyond_mm3 = 0, beyond_mm2 = 0;
  for (const Crossing& c : s.regions.crossings[region - 1]) {
    if (!beyond[apart.label[c.outer]]) continue;
    b.crossings.push_back(c);
    height += double{cutting::overlap_mm(s.field, c.inner, c.outer)};
  }
  if (b.crossings.empty()) return b;
  for (Label l = 1; l < beyond.size(); ++l) {
    if (!beyond[l]) continue;
    beyond_mm3 += apart.shape(l).volume_mm3;
    beyond_mm2 += apart.shape(l).plan_area_mm2;
  }
  height /= static_cast<double>(b.crossings.size());
  const double inner = apart.shape(region).volume_mm3 / apart.shape(region).plan_area_mm2,
               outer = beyond_mm3 / beyond_mm2;
  b.low_inner_mm = (height + inner) / 2;
  b.low_outer_mm = (height + outer) / 2;
  b.narrow = height > 0.9 * std::min(inner, outer);
  spreadFrom(b, true);
  spreadFrom(b, false);
  addPartlyOpen(b);
  return b;
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

using Traits = boost::adjacency_list_traits<boost::vecS, boost::vecS, boost::directedS>;
struct Node {
  boost::default_color_type color{};
  long distance = 0;
  Traits::edge_descriptor before{};
};
struct Arc {
  long capacity = 0, residual = 0;
  Traits::edge_descriptor reverse{};
};
using Graph = boost::adjacency_list<boost::vecS, boost::vecS, boost::directedS, Node, Arc>;

void addArcs(Graph& g, std::size_t from, std::size_t to, long capacity, long back) {
  const auto there = boost::add_edge(from, to, {capacity, 0, {}}, g).first;
  const auto again = boost::add_edge(to, from, {back, 0, {}}, g).first;
  g[there].reverse = again;
  g[again].reverse = there;
}

// Per cell of the band: true on the region's side of the cut.
std::vector<bool> innerSide(const Band& b) {
  const cutting::DexelField& f = fieldOf(b);
  const std::size_t n = b.cells.size(), source = n, sink = n + 1;
  const double cell = std::sqrt(f.cellArea_mm2());
  Graph g(n + 2);
  const std::array<Step, 16> all = steps();
  for (std::uint32_t k = 0; k < n; ++k) {
    const auto [x, y] = f.place(b.cells[k]);
    long to_source = 0, to_sink = 0;
    for (const Step& s : all) {
      if (!f.inside(x + s.x, y + s.y)) continue;
      const Cell other = f.index(x + s.x, y + s.y);
      const Kind kind = kindOf(b, other);
      if (kind == Kind::none || (kind == Kind::between && b.place.at(other) < k)) continue;
      const long capacity = std::lround(double{throughStep(f, x, y, s)} * s.weight * cell / unit_mm2);
      if (capacity == 0) continue;
      if (kind == Kind::inner) to_source += capacity;
      if (kind == Kind::outer) to_sink += capacity;
      if (kind == Kind::between) addArcs(g, k, b.place.at(other), capacity, capacity);
    }
    if (to_source > 0) addArcs(g, source, k, to_source, 0);
    if (to_sink > 0) addArcs(g, k, sink, to_sink, 0);
  }
  boost::boykov_kolmogorov_max_flow(g, boost::get(&Arc::capacity, g), boost::get(&Arc::residual, g),
                                    boost::get(&Arc::reverse, g), boost::get(&Node::before, g),
                                    boost::get(&Node::color, g), boost::get(&Node::distance, g),
                                    boost::get(boost::vertex_index, g), source, sink);
  std::vector<bool> inner(n);
  for (std::size_t k = 0; k < n; ++k) inner[k] = g[k].color == g[source].color;
  return inner;
}

// The sides of dexels that the cut goes along.
std::vector<Crossing> cutSides(const Band& b) {
  const cutting::DexelField& f = fieldOf(b);
  std::vector<Crossing> sides;
  const std::vector<bool> inner = b.cells.empty() ? std::vector<bool>{} : innerSide(b);
  for (std::uint32_t k = 0; k < b.cells.size(); ++k) {
    const Cell c = b.cells[k];
    cutting::beside(f, c, [&](Cell n) {
      if (meanOverlap_mm(f, c, n) <= 0) return;
      switch (kindOf(b, n)) {
        case Kind::none:
          break;
        case Kind::between:
          if (inner[k] && !inner[b.place.at(n)]) sides.push_back({c, n});
          break;
        case Kind::inner:
          if (!inner[k]) sides.push_back({n, c});
          break;
        case Kind::outer:
          if (inner[k]) sides.push_back({c, n});
          break;
      }
    });
  }
  for (const Crossing& s : b.crossings) {
    if (kindOf(b, s.inner) == Kind::inner && kindOf(b, s.outer) == Kind::outer) sides.push_back(s);
  }
  return sides;
}

// Groups of sides whose dexels lie side by side or corner to corner.
std::vector<std::vector<Crossing>> groupsOf(const cutting::DexelField& f, const std::vector<Crossing>& sides) {
  UnionFind sets(sides.size());
  for (const bool inner : {true, false}) {
    std::unordered_map<Cell, std::uint32_t> first;
    const auto cellOf = [&](std::uint32_t k) { return inner ? sides[k].inner : sides[k].outer; };
    for (std::uint32_t k = 0; k < sides.size(); ++k) {
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
  for (std::uint32_t k = 0; k < sides.size(); ++k) {
    const auto [there, added] = group.try_emplace(sets.find(k), groups.size());
    if (added) groups.emplace_back();
    groups[there->second].push_back(sides[k]);
  }
  return groups;
}

SetupPoint2 centreOf(const cutting::DexelField& f, Cell c) {
  const auto [x, y] = f.place(c);
  return f.centre(x, y);
}

SetupPoint2 middle(const cutting::DexelField& f, const Crossing& s) {
  return centreOf(f, s.inner) + (centreOf(f, s.outer) - centreOf(f, s.inner)) * 0.5;
}

// Sides by where they lie, in squares of the reach.
struct SideMap {
  const cutting::DexelField& field;
  const std::vector<Crossing>& sides;
  std::unordered_map<std::uint64_t, std::vector<std::uint32_t>> squares;
};

std::uint64_t squareAt(int x, int y) {
  return (static_cast<std::uint64_t>(static_cast<std::uint32_t>(x)) << 32) | static_cast<std::uint32_t>(y);
}

SideMap mapOf(const cutting::DexelField& f, const std::vector<Crossing>& sides) {
  SideMap m{f, sides, {}};
  for (std::uint32_t k = 0; k < sides.size(); ++k) {
    const SetupPoint2 p = middle(f, sides[k]);
    m.squares[squareAt(static_cast<int>(p.x / direction_reach_mm), static_cast<int>(p.y / direction_reach_mm))]
        .push_back(k);
  }
  return m;
}

// The way across the section near a side: of the sides about it, the nearer the more.
Vec2 acrossNear(const SideMap& m, const Crossing& side) {
  const SetupPoint2 p = middle(m.field, side);
  const int x = static_cast<int>(p.x / direction_reach_mm), y = static_cast<int>(p.y / direction_reach_mm);
  Vec2 sum{};
  for (int dy = -1; dy <= 1; ++dy) {
    for (int dx = -1; dx <= 1; ++dx) {
      const auto square = m.squares.find(squareAt(x + dx, y + dy));
      if (square == m.squares.end()) continue;
      for (const std::uint32_t k : square->second) {
        const Crossing& s = m.sides[k];
        const double off = length(middle(m.field, s) - p) / direction_reach_mm;
        if (off >= 1) continue;
        const Vec2 way = centreOf(m.field, s.outer) - centreOf(m.field, s.inner);
        sum = sum + way * ((1 - off * off) / length(way));
      }
    }
  }
  return sum;
}

// The nearest whole wood to a place, on one side; nothing within the reach: infinite.
Vec2 toWhole(const Band& b, SetupPoint2 p, Kind kind) {
  const cutting::DexelField& f = fieldOf(b);
  Vec2 best{std::numeric_limits<double>::infinity(), 0};
  for (const Cell c : b.cells) {
    cutting::beside(f, c, [&](Cell n) {
      if (kindOf(b, n) != kind) return;
      const Vec2 way = centreOf(f, n) - p;
      if (length(way) < length(best)) best = way;
    });
  }
  return best;
}

// The weak dexels within some way of the section.
std::vector<Cell> weakNear(const Band& b, const std::vector<Crossing>& sides, double way_mm) {
  const cutting::DexelField& f = fieldOf(b);
  const double step = std::min(f.cell_x_mm, f.cell_y_mm);
  std::vector<Cell> cells;
  std::unordered_map<Cell, double> seen;
  const auto reach = [&](Cell c, double way) {
    const bool weak = b.place.contains(c) && f.thickness(c) > cutting::no_material_mm;
    if (weak && way <= way_mm && seen.try_emplace(c, way).second) cells.push_back(c);
  };
  for (const Crossing& s : sides) {
    reach(s.inner, step / 2);
    reach(s.outer, step / 2);
  }
  for (std::size_t k = 0; k < cells.size(); ++k) {
    const double way = seen.at(cells[k]) + step;
    cutting::beside(f, cells[k], [&](Cell n) { reach(n, way); });
  }
  return cells;
}

// How far it is across the section at its middle.
void measureAcross(const Band& b, const SideMap& m, Section& s) {
  const cutting::DexelField& f = fieldOf(b);
  const Crossing& side = s.sides[s.sides.size() / 2];
  s.across = acrossNear(m, side);
  const double cell = std::max(f.cell_x_mm, f.cell_y_mm);
  const SetupPoint2 p = middle(f, side);
  const double way = length(toWhole(b, p, Kind::inner)) + length(toWhole(b, p, Kind::outer));
  s.across_mm = std::isfinite(way) ? std::max(cell, way - cell) : cell;
  s.web = weakNear(b, s.sides, s.across_mm / 2 + cell);
}

Section measured(const Band& b, std::vector<Crossing> sides) {
  const cutting::DexelField& f = fieldOf(b);
  Section s;
  s.sides = std::move(sides);
  const SideMap m = mapOf(f, s.sides);
  double heights = 0, weights = 0;
  for (const Crossing& side : s.sides) {
    const Vec2 across = acrossNear(m, side), way = centreOf(f, side.outer) - centreOf(f, side.inner);
    const bool along_x = way.y == 0;
    const double share = length(across) > 0 ? std::abs(dot(across, way)) / (length(across) * length(way)) : 1;
    const double width = share * (along_x ? f.cell_y_mm : f.cell_x_mm);
    s.area_mm2 += width * double{meanOverlap_mm(f, side.inner, side.outer)};
    const double height = double{cutting::overlap_mm(f, side.inner, side.outer)};
    if (height <= double{cutting::no_material_mm}) continue;
    heights += width * height;
    weights += width;
  }
  if (weights > 0) s.thickness_mm = heights / weights;
  if (weights > 0) measureAcross(b, m, s);
  return s;
}

}  // namespace

std::vector<Section> leastSections(const SectionSearch& search, Label region, const std::vector<bool>& beyond) {
  const Band band = bandOf(search, region, beyond);
  std::vector<Section> sections;
  for (std::vector<Crossing>& sides : groupsOf(search.field, cutSides(band))) {
    Section s = measured(band, std::move(sides));
    if (s.thickness_mm > 0) sections.push_back(std::move(s));  // else only the edges of walls touch
  }
  return sections;
}

}  // namespace provecut::pieces
