#include "sim/stock/dexel_field.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "sim/path/setup_frame.h"
#include "sim/path/stock_plan.h"

namespace provecut::cutting {

namespace {

constexpr double max_cells = 6e6;
// More than this is not held in memory, whatever was asked for: the cells are made coarser.
constexpr double max_cells_ever = 60e6;
constexpr double coarsest_mm = 0.25, finest_mm = 0.1;

double dividing(double length_mm, double wanted_mm) {
  return length_mm / std::max(1.0, std::ceil(length_mm / wanted_mm - 1e-9));
}

DexelField emptyField(int nx, int ny, double cell_x, double cell_y, double thickness) {
  DexelField f;
  f.nx = nx;
  f.ny = ny;
  f.stride = (nx + DexelField::lanes - 1) / DexelField::lanes * DexelField::lanes;
  f.cell_x_mm = cell_x;
  f.cell_y_mm = cell_y;
  f.thickness_mm = thickness;
  const std::size_t n = f.index(0, ny);
  f.top.assign(n, 0);
  f.floor.assign(n, 0);
  f.top_mean.assign(n, 0);
  f.floor_mean.assign(n, 0);
  return f;
}

// Leaves those cells of a whole field whose centres are in the disc that fills the square of the stock.
void takeCorners(double radius_mm, StockPoint2 low, DexelField& f) {
  const StockPoint2 middle{radius_mm, radius_mm};
  for (int y = 0; y < f.ny; ++y) {
    for (int x = 0; x < f.nx; ++x) {
      const Vec2 at{f.centreX(x), f.centreY(y)};
      if (length(low + at - middle) > radius_mm) f.top[f.index(x, y)] = f.top_mean[f.index(x, y)] = 0;
    }
  }
}

// Which cell of a field comes to a place when the stock is set up anew: the map is affine with whole steps.
struct CellMap {
  int origin = 0, step_x = 0, step_y = 0;
  Cell source(int x, int y) const { return static_cast<Cell>(origin + x * step_x + y * step_y); }
};

// From where the first cell of `out` and its neighbours come.
CellMap cellMap(const DexelField& field, const Stock& stock, const Setup& from, const Setup& to,
                const DexelField& out) {
  const auto source = [&](int x, int y) {
    const SetupPoint2 p = setupToSetup(stock, to, from, out.centre(x, y));
    const int sx = static_cast<int>(std::floor(p.x / field.cell_x_mm)),
              sy = static_cast<int>(std::floor(p.y / field.cell_y_mm));
    return sy * field.stride + sx;
  };
  const int origin = source(0, 0);
  return {origin, out.nx > 1 ? source(1, 0) - origin : 0, out.ny > 1 ? source(0, 1) - origin : 0};
}

void copyDexel(const DexelField& field, Cell s, bool flipped, DexelField& out, Cell c) {
  const float t = static_cast<float>(field.thickness_mm);
  if (flipped) {
    out.top[c] = t - field.floor[s];
    out.floor[c] = t - field.top[s];
    out.top_mean[c] = t - field.floor_mean[s];
    out.floor_mean[c] = t - field.top_mean[s];
  } else {
    out.top[c] = field.top[s];
    out.floor[c] = field.floor[s];
    out.top_mean[c] = field.top_mean[s];
    out.floor_mean[c] = field.floor_mean[s];
  }
}

void moveUndercut(const DexelField& field, const Stock& stock, const Setup& from, const Setup& to, const CellMap& map,
                  bool flipped, DexelField& out) {
  const auto there = [&](SetupPoint2 p) { return setupToSetup(stock, from, to, p); };
  const Vec2 x = there({1, 0}) - there({0, 0}), y = there({0, 1}) - there({0, 0});
  const float t = static_cast<float>(field.thickness_mm);
  out.undercut.prepare(out.top.size(), out.ny);
  out.undercut.mirrored = field.undercut.mirrored != flipped;
  for (int iy = 0; iy < out.ny; ++iy) {
    for (int ix = 0; ix < out.nx; ++ix) {
      const Cell s = map.source(ix, iy);
      if (!field.undercut.holds(s)) continue;
      UndercutCell& cell = out.undercut.add(out.index(ix, iy), ix, iy);
      cell = mapped(field.undercut.at(s, field.row(s)), field.undercut.mirrored, x, y, flipped, t);
      cell.x = ix;
    }
  }
}

// The gaps of stock that is set up anew.
Gaps movedGaps(const DexelField& field, const Stock& stock, const Setup& from, const Setup& to, bool flipped,
               const DexelField& out) {
  const float t = static_cast<float>(field.thickness_mm);
  const auto there = [&](Cell c) {
    const CellPlace p = field.place(c);
    const SetupPoint2 at = setupToSetup(stock, from, to, field.centre(p.x, p.y));
    return out.index(static_cast<int>(std::floor(at.x / out.cell_x_mm)),
                     static_cast<int>(std::floor(at.y / out.cell_y_mm)));
  };
  Gaps moved;
  const auto move = [&](const std::unordered_map<Cell, Gap>& gaps, Cell step) {
    for (const auto& [c, gap] : gaps) {
      const auto [first, second] = std::minmax({there(c), there(c + step)});
      auto& to_there = second == first + 1 ? moved.to_right : moved.to_back;
      to_there.emplace(first, flipped ? Gap{t - gap.high, t - gap.low} : gap);
    }
  };
  move(field.gaps.to_right, 1);
  move(field.gaps.to_back, static_cast<Cell>(field.stride));
  return moved;
}

}  // namespace

Vec2 cellSize(const Job& job, double cell_mm) {
  const Vec3 size = job.stock.size_mm;
  double cell = cell_mm > 0 ? cell_mm : job.limits.cell_mm;
  if (cell <= 0) {
    cell = coarsest_mm;
    for (const Tool& t : job.tools) {
      if (t.shape == ToolShape::vee || t.shape == ToolShape::drill) continue;
      cell = std::min(cell, t.diameter_mm / 12);
    }
    cell = std::max({cell, finest_mm, std::sqrt(size.x * size.y / max_cells)});
  }
  cell = std::max(cell, std::sqrt(size.x * size.y / max_cells_ever));
  return {dividing(size.x, cell), dividing(size.y, cell)};
}

DexelField uncutStock(const Stock& stock, Vec2 cell_mm) {
  return uncutPart(stock, {0, 0}, flat(stock.size_mm), cell_mm);
}

DexelField uncutPart(const Stock& stock, StockPoint2 low, Vec2 size_mm, Vec2 cell_mm) {
  const int nx = static_cast<int>(std::lround(size_mm.x / cell_mm.x));
  const int ny = static_cast<int>(std::lround(size_mm.y / cell_mm.y));
  DexelField f = emptyField(nx, ny, cell_mm.x, cell_mm.y, stock.size_mm.z);
  const float t = static_cast<float>(stock.size_mm.z);
  for (int y = 0; y < ny; ++y) {
    std::fill_n(f.top.begin() + f.index(0, y), nx, t);
    std::fill_n(f.top_mean.begin() + f.index(0, y), nx, t);
  }
  if (stock.shape == StockShape::round) takeCorners(stock.size_mm.x / 2, low, f);
  return f;
}

std::optional<Cell> DexelField::cellAt(double x_mm, double y_mm) const {
  const int x = static_cast<int>(std::floor(x_mm / cell_x_mm)), y = static_cast<int>(std::floor(y_mm / cell_y_mm));
  if (!inside(x, y)) return std::nullopt;
  return index(x, y);
}

std::span<const DexelSegment> centreSegments(const DexelField& field, Cell c, DexelSegment& plain) {
  if (field.undercut.holds(c)) return field.undercut.at(c, field.row(c)).atCentre();
  plain = {field.floor[c], field.top[c]};
  return {&plain, field.thickness(c) > no_material_mm ? 1U : 0U};
}

float solid_mm(const DexelField& field, Cell c) {
  if (!field.undercut.holds(c)) return field.thickness(c);
  float sum = 0;
  for (const DexelSegment& s : field.undercut.at(c, field.row(c)).atCentre()) sum += s.high - s.low;
  return sum;
}

const Gap* gapBetween(const DexelField& field, Cell a, Cell b) {
  if (field.gaps.empty()) return nullptr;
  const auto [first, second] = std::minmax(a, b);
  const auto& gaps = second == first + 1 ? field.gaps.to_right : field.gaps.to_back;
  const auto gap = gaps.find(first);
  return gap == gaps.end() ? nullptr : &gap->second;
}

float throughGap_mm(const DexelField& field, Cell a, Cell b, float overlap_mm) {
  const Gap* gap = gapBetween(field, a, b);
  if (!gap) return overlap_mm;
  const float low = std::max({field.floor[a], field.floor[b], gap->low});
  const float high = std::min({field.top[a], field.top[b], gap->high});
  return std::min(overlap_mm, high - low);
}

float overlap_mm(const DexelField& field, Cell a, Cell b) {
  float overlap = std::min(field.top[a], field.top[b]) - std::max(field.floor[a], field.floor[b]);
  if (field.undercut.holds(a) || field.undercut.holds(b))
    overlap = std::min({overlap, solid_mm(field, a), solid_mm(field, b)});
  return throughGap_mm(field, a, b, overlap);
}

float taken_mm(const DexelField& before, const DexelField& after, Cell c) {
  if (!before.undercut.holds(c) && !after.undercut.holds(c)) return before.top[c] - after.top[c];
  return solid_mm(before, c) - solid_mm(after, c);
}

void shareRim(const Stock& stock, DexelField& f) {
  if (stock.shape != StockShape::round) return;
  const double radius = stock.size_mm.x / 2;
  const Vec2 half{f.cell_x_mm / 2, f.cell_y_mm / 2};
  const auto standsBeside = [&](int x, int y) {
    float highest = 0;
    for (const auto& [nx, ny] : {std::pair{x - 1, y}, {x + 1, y}, {x, y - 1}, {x, y + 1}}) {
      if (f.inside(nx, ny)) highest = std::max(highest, f.thickness(f.index(nx, ny)));
    }
    return highest;
  };
  for (int y = 0; y < f.ny; ++y) {
    for (int x = 0; x < f.nx; ++x) {
      const Vec2 at{f.centreX(x) - radius, f.centreY(y) - radius};
      if (std::abs(length(at) - radius) >= length(half)) continue;
      const Cell c = f.index(x, y);
      const float share = static_cast<float>(discArea_mm2(radius, at - half, at + half) / f.cellArea_mm2());
      // Beyond the rim stands as much as inside of it.
      const float whole = length(at) > radius ? standsBeside(x, y) : f.meanThickness(c);
      f.top_mean[c] = f.floor_mean[c] + share * whole;
    }
  }
}

DexelField movedTo(DexelField field, const Setup& from, const Setup& to) {
  if (from.flip == to.flip && from.rotate_deg == to.rotate_deg) return field;
  const bool rotated_from = from.rotate_deg % 180 != 0, rotated_to = to.rotate_deg % 180 != 0;
  Stock stock;  // only its size is used, to carry cell centres from frame to frame
  stock.size_mm = {field.nx * field.cell_x_mm, field.ny * field.cell_y_mm, field.thickness_mm};
  if (rotated_from) std::swap(stock.size_mm.x, stock.size_mm.y);
  const bool swapped = rotated_from != rotated_to;
  DexelField out = emptyField(swapped ? field.ny : field.nx, swapped ? field.nx : field.ny,
                              swapped ? field.cell_y_mm : field.cell_x_mm, swapped ? field.cell_x_mm : field.cell_y_mm,
                              field.thickness_mm);
  const bool flipped = (from.flip == Flip::none) != (to.flip == Flip::none);
  const CellMap map = cellMap(field, stock, from, to, out);
  for (int y = 0; y < out.ny; ++y) {
    for (int x = 0; x < out.nx; ++x) copyDexel(field, map.source(x, y), flipped, out, out.index(x, y));
  }
  if (!field.undercut.slot.empty()) moveUndercut(field, stock, from, to, map, flipped, out);
  if (!field.gaps.empty()) out.gaps = movedGaps(field, stock, from, to, flipped, out);
  return out;
}

DexelField heightsOf(const DexelField& f) {
  DexelField out;
  out.nx = f.nx;
  out.ny = f.ny;
  out.stride = f.stride;
  out.cell_x_mm = f.cell_x_mm;
  out.cell_y_mm = f.cell_y_mm;
  out.thickness_mm = f.thickness_mm;
  out.top = f.top;
  out.floor = f.floor;
  out.undercut = f.undercut;
  out.gaps = f.gaps;
  return out;
}

DexelField toCutAgain(const DexelField& heights) {
  DexelField out = heightsOf(heights);
  out.top_mean = out.top;
  out.floor_mean = out.floor;
  return out;
}

double volume_mm3(const DexelField& field) {
  double heights = 0;
  for (int y = 0; y < field.ny; ++y) {
    double row = 0;
    for (Cell c = field.index(0, y), end = field.index(field.nx, y); c < end; ++c) {
      row += std::max(0.0F, field.meanThickness(c));
    }
    heights += row;
  }
  return heights * field.cellArea_mm2();
}

}  // namespace provecut::cutting
