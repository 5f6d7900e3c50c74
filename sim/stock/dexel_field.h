// The stock as dexels over a plan raster, in the setup frame. Tools without undercut, from either side, leave each
// dexel one segment: from `floor` up to `top`. Heights are exact at the cell's centre, whatever the cell's size. Where
// a cutter leaves material hanging over a hollow, `undercut` holds all segments of the cell: `floor` and `top` are then
// the lowest underside and the highest top at its centre.
#pragma once

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "parser/job/job.h"
#include "sim/stock/gaps.h"
#include "sim/stock/undercut_cells.h"

namespace provecut::cutting {

// A dexel's place in the vectors of its field: made by DexelField::index, taken apart by DexelField::place.
using Cell = std::uint32_t;

struct CellPlace {
  int x = 0, y = 0;
};

struct DexelField {
  int nx = 0, ny = 0;  // cells along X and Y
  int stride = 0;      // cells from one row to the next: nx and padding, a multiple of `lanes`
  double cell_x_mm = 0, cell_y_mm = 0;
  double thickness_mm = 0;

  // Row-major, mm above the underside of the stock in this setup. Padding cells hold no material (top = floor).
  std::vector<float> top, floor;
  // Mean heights over the cell's area: they differ from the above only in cells that a steep wall crosses, and give
  // volumes that do not depend on where the wall falls in the raster. Empty in a copy that is only asked for heights.
  std::vector<float> top_mean, floor_mean;  // an undercut cell's differ by its mean thickness of material

  UndercutCells undercut;
  Gaps gaps;

  static constexpr int lanes = 8;

  Cell index(int ix, int iy) const { return static_cast<Cell>(iy * stride + ix); }
  CellPlace place(Cell c) const {
    const int i = static_cast<int>(c);
    return {i % stride, i / stride};
  }
  int row(Cell c) const { return place(c).y; }
  // The cell in which a place of the plan lies; none beside the stock.
  std::optional<Cell> cellAt(double x_mm, double y_mm) const;
  double cellArea_mm2() const { return cell_x_mm * cell_y_mm; }
  double centreX(int ix) const { return (ix + 0.5) * cell_x_mm; }
  double centreY(int iy) const { return (iy + 0.5) * cell_y_mm; }
  SetupPoint2 centre(int ix, int iy) const { return {centreX(ix), centreY(iy)}; }
  bool inside(int ix, int iy) const { return ix >= 0 && iy >= 0 && ix < nx && iy < ny; }
  float thickness(Cell c) const { return top[c] - floor[c]; }
  float meanThickness(Cell c) const { return top_mean.empty() ? thickness(c) : top_mean[c] - floor_mean[c]; }
};

// Less material than this between two surfaces is none: float heights of stock are exact to about a hundredth of it.
inline constexpr float no_material_mm = 1e-4F;
inline constexpr float least_depth_mm = 1e-3F;  // of a cut: less is the rounding of heights

// All segments at the cell's centre, from below; `plain` gives room for the one segment of a plain dexel.
std::span<const DexelSegment> centreSegments(const DexelField& field, Cell c, DexelSegment& plain);

// Material at the cell's centre without the hollows, mm.
float solid_mm(const DexelField& field, Cell c);

// How much material two dexels side by side share: 0 or less where they do not touch, mm.
float overlap_mm(const DexelField& field, Cell a, Cell b);

// The gap between two dexels side by side; null where there is none.
const Gap* gapBetween(const DexelField& field, Cell a, Cell b);

// What the gap between them leaves of `overlap_mm` of it.
float throughGap_mm(const DexelField& field, Cell a, Cell b, float overlap_mm);

// Material that the cell's centre lost between two states of one stock, mm.
float taken_mm(const DexelField& before, const DexelField& after, Cell c);

// A height for those who read it: without the digits beyond what a float of stock's size holds.
inline double shownHeight_mm(float height) {
  return std::round(double{height} * 1e5) / 1e5;
}

// Cell size in x and y for stock, mm: `cell_mm` or, where that is 0, a choice from the stock and the tools; made to
// divide the stock exactly, and coarser where the stock would need more than 60 million cells.
Vec2 cellSize(const Job& job, double cell_mm);

// The whole stock, uncut, in a setup without flip and rotation: there the setup frame is the stock frame. A dexel of
// round stock is whole where its centre is in the disc, else empty. So what a tool meets is in the disc for certain:
// beside it nothing is met by mistake. What of the rim lies beyond the last centres is met from half a diagonal of a
// cell on, as at the edge of a rectangle.
DexelField uncutStock(const Stock& stock, Vec2 cell_mm);

// A rectangle of it; its plan counts from `low`.
DexelField uncutPart(const Stock& stock, StockPoint2 low, Vec2 size_mm, Vec2 cell_mm);

// For the surface of stock that is done, in its own frame: gives the mean heights of round stock's rim the disc's share
// of each cell, so that its wall follows the circle and not the raster.
void shareRim(const Stock& stock, DexelField& field);

// The same material in the setup frame of `to`, from that of `from`.
DexelField movedTo(DexelField field, const Setup& from, const Setup& to);

// A copy without mean heights, half the size; and one of such a copy to be cut again, its volumes those of its centres.
DexelField heightsOf(const DexelField& field);
DexelField toCutAgain(const DexelField& heights);

double volume_mm3(const DexelField& field);

}  // namespace provecut::cutting
