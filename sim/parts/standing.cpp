#include "sim/parts/standing.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "sim/stock/close_up.h"
#include "sim/stock/dexel_walk.h"

namespace provecut::pieces {

namespace {

using cutting::Cell;
using cutting::CellPlace;
using cutting::DexelField;

constexpr int directions = 180;  // over half a turn
constexpr float same_height_mm = 1e-3F;
constexpr double longest_way_mm = 3;  // through the wood that is followed: a wider piece is no sliver
constexpr double along_step_mm = 0.25;
constexpr double max_post_cuts = 4e6;   // of a close-up
constexpr double foot_within_mm = 0.5;  // of a wall: a foot lies where the wall ends, not half way down a slope

// A way through the standing wood.
struct Ray {
  double mm = 0;
  float foot = 0;  // the lowest just beyond its end
};

struct Looking {
  const DexelField& field;
  const Mask& cells;

  std::optional<Cell> at(Vec2 p) const { return field.cellAt(p.x, p.y); }
  bool stands(Vec2 p) const {
    const auto c = at(p);
    return c && cells[*c];
  }
  // From a place in it to its side, or a little beyond the limit.
  double way(Vec2 from, Vec2 to, double limit_mm) const {
    const double step = field.cell_x_mm / 2;
    double mm = 0;
    while (mm < limit_mm && stands(from + to * (mm + step))) mm += step;
    return mm + step / 2;
  }
  Ray ray(Vec2 from, Vec2 to) const {
    Ray r{way(from, to, longest_way_mm), std::numeric_limits<float>::infinity()};
    const double step = field.cell_x_mm / 2;
    for (double s = step / 2; s <= foot_within_mm; s += step) {
      const auto c = at(from + to * (r.mm + s));
      r.foot = std::min(r.foot, c ? field.top[*c] : 0.0F);
    }
    return r;
  }
};

struct Chord {
  double mm = std::numeric_limits<double>::infinity();
  Vec2 middle, way;
  float foot = 0;
};

// Directions of chords: `count` of them, `step_rad` apart, about a first one.
struct Fan {
  double first_rad = 0, step_rad = 0;
  int count = 0;
};

constexpr Fan every_way{0, std::numbers::pi / 45, 45};

// The shortest way through at p; `beside` ways to each side of it count too, for the mean of them.
Chord leastChord(const Looking& look, Vec2 p, const Fan& fan, int beside) {
  Chord least;
  for (int k = 0; k < fan.count; ++k) {
    const double a = fan.first_rad + k * fan.step_rad;
    const Vec2 way{std::cos(a), std::sin(a)}, aside{-way.y, way.x};
    const double limit_mm = std::min(longest_way_mm, 2 * least.mm);
    double sum = 0;
    int ways = 0;
    for (int j = -beside; j <= beside; ++j) {
      const Vec2 from = p + aside * (j * look.field.cell_x_mm);
      if (!look.stands(from)) continue;
      sum += look.way(from, way, limit_mm) + look.way(from, way * -1, limit_mm);
      ++ways;
    }
    if (ways > 0 && sum / ways < least.mm) {
      least.mm = sum / ways;
      least.way = way;
    }
  }
  const Ray on = look.ray(p, least.way), back = look.ray(p, least.way * -1);
  least.middle = p + least.way * ((on.mm - back.mm) / 2);
  least.foot = std::max(on.foot, back.foot);
  return least;
}

// The least width between two parallel lines that hold all these places.
double leastWidth(const std::vector<Vec2>& places, double cell_mm) {
  double least = std::numeric_limits<double>::infinity();
  for (int k = 0; k < directions; ++k) {
    const double a = std::numbers::pi * k / directions, x = std::cos(a), y = std::sin(a);
    double low = std::numeric_limits<double>::infinity(), high = -low;
    for (const Vec2 p : places) {
      const double along = p.x * x + p.y * y;
      low = std::min(low, along);
      high = std::max(high, along);
    }
    least = std::min(least, high - low);
  }
  // The outermost places are centres of cells: on average half a cell of the two sides is missing.
  return least + cell_mm / 2;
}

// True if the cell lies at a side of the close-up where the stock goes on.
bool atOpenSide(const CloseUp& near, CellPlace p) {
  const DexelField& f = near.field;
  return (p.x == 0 && !near.at_edge[0]) || (p.x == f.nx - 1 && !near.at_edge[1]) || (p.y == 0 && !near.at_edge[2]) ||
         (p.y == f.ny - 1 && !near.at_edge[3]);
}

}  // namespace

CloseUp closeUp(const ProgramCut& cut, SetupPoint2 centre, double reach_mm, double wanted_mm) {
  const DexelField& raster = cut.after;
  const SetupPoint2 end{raster.nx * raster.cell_x_mm, raster.ny * raster.cell_y_mm};
  const SetupPoint2 low{std::max(0.0, centre.x - reach_mm), std::max(0.0, centre.y - reach_mm)},
      high{std::min(end.x, centre.x + reach_mm), std::min(end.y, centre.y + reach_mm)};
  const Vec2 size = high - low;
  const cutting::CloseUpPlace place = cutting::placeOf(cut.past, low, size);
  const double most_mm = std::max(wanted_mm, std::min(raster.cell_x_mm, raster.cell_y_mm) / 2);
  const double cell_mm = std::clamp(cutting::cheapCell_mm(place, max_post_cuts), wanted_mm, most_mm);
  const Vec2 cell{size.x / std::ceil(size.x / cell_mm), size.y / std::ceil(size.y / cell_mm)};
  return {low,
          cutting::isCostly(cut.past, place) ? cutting::enlarged(raster, place, cell)
                                             : cutting::closeUp(cut.past, place, cell),
          {low.x <= 0, high.x >= end.x, low.y <= 0, high.y >= end.y}};
}

Cell highestNear(const CloseUp& near, SetupPoint2 place, double half_x, double half_y) {
  const DexelField& f = near.field;
  Cell best = 0;
  double best_top = -1, best_far = 0;
  for (int y = 0; y < f.ny; ++y) {
    for (int x = 0; x < f.nx; ++x) {
      const double dx = near.low.x + f.centreX(x) - place.x, dy = near.low.y + f.centreY(y) - place.y;
      if (std::abs(dx) > half_x || std::abs(dy) > half_y) continue;
      const double top = double{f.top[f.index(x, y)]}, far = std::hypot(dx, dy);
      const bool higher = top > best_top + double{same_height_mm};
      if (!higher && (top < best_top - double{same_height_mm} || far >= best_far)) continue;
      best = f.index(x, y);
      best_top = top;
      best_far = far;
    }
  }
  return best;
}

Standing standingAt(const CloseUp& near, Cell seed, float level) {
  const DexelField& f = near.field;
  Standing s;
  s.cells.assign(f.top.size(), 0);
  s.cells[seed] = 1;
  std::vector<Cell> all{seed};
  std::vector<Vec2> rim;
  for (std::size_t k = 0; k < all.size(); ++k) {
    const Cell c = all[k];
    int inside = 0;
    cutting::beside(f, c, [&](Cell n) {
      if (f.top[n] <= level + cutting::no_material_mm) return;
      ++inside;
      if (s.cells[n]) return;
      s.cells[n] = 1;
      all.push_back(n);
    });
    const CellPlace p = f.place(c);
    if (atOpenSide(near, p)) s.ends = false;
    if (inside < 4) rim.push_back({f.centreX(p.x), f.centreY(p.y)});
  }
  const Looking look{f, s.cells};
  const CellPlace p = f.place(seed);
  Chord chord = leastChord(look, {f.centreX(p.x), f.centreY(p.y)}, every_way, 2);
  // By its middle: beside it the way through a post's corner would be the least.
  if (look.stands(chord.middle)) chord = leastChord(look, chord.middle, every_way, 2);
  s.thickness_mm = chord.mm;
  s.middle = s.centre = chord.middle;
  s.across = chord.way;
  s.foot = std::max(chord.foot, f.floor[seed]);
  s.foot_around = s.foot;
  if (!s.ends) return s;
  s.width_mm = leastWidth(rim, f.cell_x_mm);
  Vec2 sum;
  for (const Cell c : all) sum = sum + Vec2{f.centreX(f.place(c).x), f.centreY(f.place(c).y)};
  if (const Vec2 centre = sum * (1 / static_cast<double>(all.size())); look.stands(centre)) s.centre = centre;
  for (int k = 0; k < directions; k += 6) {
    const double a = 2 * std::numbers::pi * k / directions;
    s.foot_around = std::max(s.foot_around, look.ray(s.centre, {std::cos(a), std::sin(a)}).foot);
  }
  return s;
}

double lengthOf(const CloseUp& near, const Standing& standing, double thinnest, double thickest, double enough) {
  constexpr Fan about{-std::numbers::pi / 6, std::numbers::pi / 36, 13};  // a wall bends by less from step to step
  const Looking look{near.field, standing.cells};
  double length_mm = 0;
  for (const double sense : {1.0, -1.0}) {
    Vec2 at = standing.middle, across = standing.across;
    while (length_mm < enough) {
      const Vec2 next = at + Vec2{-across.y, across.x} * (sense * along_step_mm);
      if (!look.stands(next)) break;
      Fan fan = about;
      fan.first_rad += std::atan2(across.y, across.x);
      const Chord chord = leastChord(look, next, fan, 0);
      // A single way is uneven by a cell.
      if (chord.mm < thinnest - near.field.cell_x_mm || chord.mm >= thickest) break;
      length_mm += along_step_mm;
      at = chord.middle;
      across = chord.way;
    }
  }
  return length_mm;
}

std::vector<Side> sidesOf(const CloseUp& near, const Standing& standing, Vec2 from, int ways) {
  const Looking look{near.field, standing.cells};
  const double first = std::atan2(standing.across.y, standing.across.x);
  std::vector<Side> sides;
  for (int k = 0; k < ways; ++k) {
    const double a = first + 2 * std::numbers::pi * k / ways;
    const Vec2 way{std::cos(a), std::sin(a)};
    sides.push_back({near.low + from + way * look.ray(from, way).mm, way});
  }
  return sides;
}

}  // namespace provecut::pieces
