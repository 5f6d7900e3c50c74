#include "sim/pieces/tab_measure.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace provecut::pieces {

namespace {

using cutting::Cell;

// Of more than this the strength tells that the kerf runs with the grain, degrees.
constexpr double along_grain_deg = 60;

SetupPoint2 centre(const cutting::DexelField& f, Cell c) {
  const auto [x, y] = f.place(c);
  return f.centre(x, y);
}

// How far each of a web's cells is from the part.
struct Distances {
  std::vector<double> of;
  double farthest = 0;
  Vec2 across{};  // the way to the farthest
};

Distances distancesFromPart(const cutting::DexelField& f, const WebShape& web) {
  // A skin all round a part has a long outline: every so manyth of its cells is near enough for the distance.
  constexpr std::size_t max_pairs = 20'000'000;
  const std::size_t stride = 1 + web.cells.size() * web.part_side.size() / max_pairs;
  Distances d;
  for (const Cell c : web.cells) {
    double best = std::numeric_limits<double>::infinity();
    Vec2 way{};
    for (std::size_t n = 0; n * stride < web.part_side.size(); ++n) {
      // Row by row the two sides of the part take turns: an even step would only see one of them.
      const std::size_t k = std::min(web.part_side.size() - 1, n * stride + n % stride);
      const Vec2 to = centre(f, c) - centre(f, web.part_side[k]);
      if (const double l = length(to); l < best) {
        best = l;
        way = to;
      }
    }
    d.of.push_back(best);
    if (best > d.farthest) {
      d.farthest = best;
      d.across = way;
    }
  }
  return d;
}

struct Section {
  double area_mm2 = std::numeric_limits<double>::infinity(), thickness_mm = 0;
};

// The section `at` mm from the part, gathered over `width` mm to both sides; none where no cell is there.
Section sectionAt(const cutting::DexelField& f, const WebShape& web, const Distances& d, double at, double width) {
  double weights = 0, volume = 0;
  for (std::size_t i = 0; i < web.cells.size(); ++i) {
    const double weight = std::max(0.0, 1 - std::abs(d.of[i] - at) / width);
    weights += weight;
    volume += weight * double{cutting::solid_mm(f, web.cells[i])};
  }
  if (weights <= 0) return {};
  // The weights add up to `width` along the way across, in whole cells.
  return {volume * f.cellArea_mm2() / width, volume / weights};
}

Section weakestSection(const cutting::DexelField& f, const WebShape& web, const Distances& d) {
  const double cell = std::max(f.cell_x_mm, f.cell_y_mm), half = 2 * cell;
  if (d.farthest > 2 * half) {
    if (web.all_round) return sectionAt(f, web, d, half, half);
    Section weakest;
    for (double at = half; at <= d.farthest - half + 1e-9; at += cell / 2) {
      const Section s = sectionAt(f, web, d, at, half);
      if (s.area_mm2 < weakest.area_mm2) weakest = s;
    }
    return weakest;
  }
  // Too narrow for sections: the mean one.
  double volume = 0;
  for (const Cell c : web.cells) volume += double{cutting::solid_mm(f, c)} * f.cellArea_mm2();
  const double wide = std::max(cell, d.farthest - cell / 2);
  return {volume / wide, volume / (static_cast<double>(web.cells.size()) * f.cellArea_mm2())};
}

}  // namespace

FoundTab measureTab(const cutting::DexelField& f, const WebShape& web, SetupDirection2 grain) {
  const Distances d = distancesFromPart(f, web);
  const Section weakest = weakestSection(f, web, d);
  Vec2 sum{};  // from the frame's origin
  double top = 0;
  for (const Cell c : web.cells) {
    sum = sum + (centre(f, c) - SetupPoint2{});
    top += double{f.top[c]};
  }
  const double n = static_cast<double>(web.cells.size());
  FoundTab tab;
  tab.at = {sum.x / n, sum.y / n, top / n};
  tab.area_mm2 = weakest.area_mm2;
  tab.thickness_mm = weakest.thickness_mm;
  tab.length_mm = tab.thickness_mm > 0 ? tab.area_mm2 / tab.thickness_mm : 0;
  tab.kerf_mm = d.farthest;
  const double l = length(d.across);
  if (l > 0 && length(grain) > 0) {
    tab.grain_deg = std::acos(std::min(1.0, std::abs(dot(d.across, grain.vec())) / l)) * 180 / std::numbers::pi;
    tab.along_grain = tab.grain_deg > along_grain_deg;
  }
  return tab;
}

}  // namespace provecut::pieces
