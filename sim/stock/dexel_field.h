// The stock as dexels over a plan raster, as it lies in one setup. Tools without undercut, from either side,
// leave each dexel one run of material: from `floor` up to `top`. Heights are exact at the cell's centre, whatever
// the cell's size. Where a cutter leaves material hanging over a hollow, `undercut` holds all runs of the cell: `floor`
// and `top` are then the lowest underside and the highest top at its centre.
#pragma once

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "parser/job/job.h"
#include "sim/stock/undercut_cells.h"

namespace provecut::cutting {

struct DexelField {
  int nx = 0, ny = 0;
  int stride = 0;  // cells from one row to the next: nx and padding, a multiple of `lanes`
  double cell_x_mm = 0, cell_y_mm = 0;
  double thickness_mm = 0;

  // Row-major, mm above the underside of the stock as it lies. Padding cells hold no material (top = floor).
  std::vector<float> top, floor;
  // Mean heights over the cell's area: they differ from the above only in cells that a steep wall crosses, and give
  // volumes that do not depend on where the wall falls in the raster. Empty in a copy that is only asked for heights.
  std::vector<float> top_mean, floor_mean;  // an undercut cell's differ by its mean thickness of material

  UndercutCells undercut;

  static constexpr int lanes = 8;

  std::size_t index(int ix, int iy) const {
    return static_cast<std::size_t>(iy) * static_cast<std::size_t>(stride) + static_cast<std::size_t>(ix);
  }
  double cellArea_mm2() const { return cell_x_mm * cell_y_mm; }
  double centreX(int ix) const { return (ix + 0.5) * cell_x_mm; }
  double centreY(int iy) const { return (iy + 0.5) * cell_y_mm; }
  SetupPoint2 centre(int ix, int iy) const { return {centreX(ix), centreY(iy)}; }
  bool inside(int ix, int iy) const { return ix >= 0 && iy >= 0 && ix < nx && iy < ny; }
  float thickness(std::size_t c) const { return top[c] - floor[c]; }
  float meanThickness(std::size_t c) const { return top_mean.empty() ? thickness(c) : top_mean[c] - floor_mean[c]; }
  int row(std::size_t c) const { return static_cast<int>(c / static_cast<std::size_t>(stride)); }
};

// Less material than this between two surfaces is none: float heights of stock are exact to about a hundredth of it.
inline constexpr float no_material_mm = 1e-4F;

// All runs of material at the cell's centre, from below; `plain` gives room for the one run of a plain dexel.
std::span<const DexelSegment> centreSegments(const DexelField& field, std::size_t c, DexelSegment& plain);

// Material at the cell's centre without the hollows, mm.
float solid_mm(const DexelField& field, std::size_t c);

// Material that the cell's centre lost between two states of one stock, mm.
float taken_mm(const DexelField& before, const DexelField& after, std::size_t c);

// A height for those who read it: without the digits beyond what a float of stock's size holds.
inline double shownHeight_mm(float height) {
  return std::round(static_cast<double>(height) * 1e5) / 1e5;
}

// Cell size in x and y for stock, mm: `cell_mm` or, where that is 0, a choice from the stock and the tools; made to
// divide the stock exactly, and coarser where the stock would need more than 60 million cells.
Vec2 cellSize(const Job& job, double cell_mm);

// The whole stock, uncut, as it lies in a setup without flip and rotation: there the setup frame is the stock frame.
DexelField uncutStock(const Stock& stock, Vec2 cell_mm);

// The same material as it lies in `to` when it now lies in `from`.
DexelField turned(DexelField field, const Setup& from, const Setup& to);

// A copy without mean heights, half the size; and one of such a copy to be cut again, its volumes those of its centres.
DexelField heightsOf(const DexelField& field);
DexelField toCutAgain(const DexelField& heights);

double volume_mm3(const DexelField& field);

}  // namespace provecut::cutting
