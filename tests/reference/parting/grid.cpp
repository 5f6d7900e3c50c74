#include "tests/reference/parting/grid.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace provecut::reference {
namespace {

constexpr double kTouch_mm = 1e-9;  // a second pass over the same way takes nothing

double overlap(double floor_a, double top_a, double floor_b, double top_b) {
  return std::min(top_a, top_b) - std::max(floor_a, floor_b);
}

bool hangTogether(const Grid& grid, int a, int b) {
  const auto m = static_cast<std::size_t>(a);
  const auto n = static_cast<std::size_t>(b);
  return overlap(grid.floor[m], grid.top[m], grid.floor[n], grid.top[n]) > kContact_mm;
}

// Whether the cell (i, j), once floor..top, now has lost a contact with one of its neighbours.
bool losesContact(const Grid& grid, int i, int j, double floor, double top) {
  const int here = grid.index(i, j);
  const auto lost = [&](int there) {
    const auto n = static_cast<std::size_t>(there);
    return overlap(floor, top, grid.floor[n], grid.top[n]) > kContact_mm && !hangTogether(grid, here, there);
  };
  return (i > 0 && lost(here - 1)) || (i + 1 < grid.nx && lost(here + 1)) || (j > 0 && lost(here - grid.nx)) ||
         (j + 1 < grid.ny && lost(here + grid.nx));
}

// Takes all above z (of the setup) from a cell.
void take(Grid& grid, bool turned, int i, int j, double z, Effect& effect) {
  const int here = grid.index(i, j);
  const auto n = static_cast<std::size_t>(here);
  const double floor = grid.floor[n];
  const double top = grid.top[n];
  if (turned) {
    grid.floor[n] = std::min(top, grid.thickness - z);
  } else {
    grid.top[n] = std::max(floor, z);
  }
  const bool gone = grid.top[n] - grid.floor[n] <= kContact_mm;
  if (gone) grid.top[n] = grid.floor[n];
  const int owner = grid.owner[n];
  if (owner == kDust) return;
  const auto piece = static_cast<std::size_t>(owner);
  effect.taken_mm3[piece] += ((top - floor) - (grid.top[n] - grid.floor[n])) * grid.dx * grid.dy;
  if (gone || losesContact(grid, i, j, floor, top)) effect.parted[piece] = 1;
  if (gone) grid.owner[n] = kDust;
}

std::size_t rootOf(std::vector<std::size_t>& parent, std::size_t run) {
  while (parent[run] != run) run = parent[run] = parent[parent[run]];
  return run;
}

bool runsTouch(const Grid& grid, const Run& below, const Run& above) {
  const int end = std::min(below.i1, above.i1);
  for (int i = std::max(below.i0, above.i0); i < end; ++i) {
    if (hangTogether(grid, grid.index(i, below.j), grid.index(i, above.j))) return true;
  }
  return false;
}

void addRunsOfRow(const Grid& grid, int owner, const CellBox& box, int j, std::vector<Run>& runs) {
  int begin = -1;
  for (int i = box.i0; i < box.i1; ++i) {
    const bool mine = grid.owner[static_cast<std::size_t>(grid.index(i, j))] == owner;
    const bool joined = mine && begin >= 0 && hangTogether(grid, grid.index(i - 1, j), grid.index(i, j));
    if (joined) continue;
    if (begin >= 0) runs.push_back({j, begin, i});
    begin = mine ? i : -1;
  }
  if (begin >= 0) runs.push_back({j, begin, box.i1});
}

// Joins the runs of one row [middle, end) with those of the row below [begin, middle).
void joinRows(const Grid& grid, const std::vector<Run>& runs, std::size_t begin, std::size_t middle, std::size_t end,
              std::vector<std::size_t>& parent) {
  std::size_t a = begin;
  std::size_t b = middle;
  while (a < middle && b < end) {
    const std::size_t root_a = rootOf(parent, a);
    const std::size_t root_b = rootOf(parent, b);
    if (root_a != root_b && runsTouch(grid, runs[a], runs[b])) parent[root_b] = root_a;
    (runs[a].i1 < runs[b].i1 ? a : b) += 1;
  }
}

std::vector<Component> gather(const std::vector<Run>& runs, std::vector<std::size_t>& parent) {
  std::vector<Component> components;
  std::vector<int> component_of(runs.size(), -1);
  for (std::size_t r = 0; r < runs.size(); ++r) {
    int& number = component_of[rootOf(parent, r)];
    const Run& run = runs[r];
    if (number < 0) {
      number = static_cast<int>(components.size());
      components.push_back({{}, {run.i0, run.i1, run.j, run.j + 1}, 0});
    }
    Component& c = components[static_cast<std::size_t>(number)];
    c.runs.push_back(run);
    c.cells += run.i1 - run.i0;
    c.box = {std::min(c.box.i0, run.i0), std::max(c.box.i1, run.i1), c.box.j0, run.j + 1};
  }
  return components;
}

int squareCells(double cell_mm) {
  return std::max(1, static_cast<int>(std::lround(1 / cell_mm)));
}

}  // namespace

Grid gridOf(const Sheet& sheet, double cell_mm) {
  Grid grid;
  grid.nx = std::max(1, static_cast<int>(std::lround(sheet.size_x / cell_mm)));
  grid.ny = std::max(1, static_cast<int>(std::lround(sheet.size_y / cell_mm)));
  grid.dx = sheet.size_x / grid.nx;
  grid.dy = sheet.size_y / grid.ny;
  grid.thickness = sheet.thickness;
  const auto cells = static_cast<std::size_t>(grid.nx) * static_cast<std::size_t>(grid.ny);
  grid.floor.assign(cells, 0.0);
  grid.top.assign(cells, sheet.thickness);
  grid.owner.assign(cells, 0);
  return grid;
}

CellBox cellsWithin(const Grid& grid, double x0, double x1, double y0, double y1) {
  const auto first = [](double v, double d, int n) {
    return static_cast<int>(std::clamp(std::ceil(v / d - 0.5), 0.0, static_cast<double>(n)));
  };
  const auto end = [](double v, double d, int n) {
    return static_cast<int>(std::clamp(std::floor(v / d - 0.5) + 1, 0.0, static_cast<double>(n)));
  };
  CellBox box{first(x0, grid.dx, grid.nx), end(x1, grid.dx, grid.nx), first(y0, grid.dy, grid.ny),
              end(y1, grid.dy, grid.ny)};
  box.i1 = std::max(box.i0, box.i1);
  box.j1 = std::max(box.j0, box.j1);
  return box;
}

CellBox rowsNear(const Grid& grid, const Stroke& stroke, double reach) {
  const double end_x = stroke.x + stroke.ux * stroke.length;
  const double end_y = stroke.y + stroke.uy * stroke.length;
  return cellsWithin(grid, std::min(stroke.x, end_x) - reach - grid.dx, std::max(stroke.x, end_x) + reach + grid.dx,
                     std::min(stroke.y, end_y) - reach - grid.dy, std::max(stroke.y, end_y) + reach + grid.dy);
}

RowSpan spanNear(const Grid& grid, const Stroke& stroke, double reach, int j) {
  // The part of the stroke within reach of the row's line, widened by the reach.
  const double y = grid.centreY(j);
  double low = 0;
  double high = stroke.length;
  if (std::abs(stroke.uy) > 1e-12) {
    const double a = (y - reach - stroke.y) / stroke.uy;
    const double b = (y + reach - stroke.y) / stroke.uy;
    low = std::clamp(std::min(a, b), 0.0, stroke.length);
    high = std::clamp(std::max(a, b), 0.0, stroke.length);
  }
  const double xa = stroke.x + stroke.ux * low;
  const double xb = stroke.x + stroke.ux * high;
  const CellBox box = cellsWithin(grid, std::min(xa, xb) - reach - grid.dx, std::max(xa, xb) + reach + grid.dx, 0, 0);
  return {box.i0, box.i1};
}

void cut(Grid& grid, bool turned, const Profile& profile, const Stroke& stroke, Effect& effect) {
  const double lowest = lowestTip(stroke);
  if (lowest >= grid.thickness) return;
  const CellBox box = rowsNear(grid, stroke, profile.radius);
  for (int j = box.j0; j < box.j1; ++j) {
    const RowSpan span = spanNear(grid, stroke, profile.radius, j);
    for (int i = span.i0; i < span.i1; ++i) {
      const auto n = static_cast<std::size_t>(grid.index(i, j));
      if (grid.top[n] <= grid.floor[n]) continue;
      const double height = turned ? grid.thickness - grid.floor[n] : grid.top[n];
      if (height - kTouch_mm <= lowest) continue;
      const double z = envelopeAt(profile, stroke, grid.centreX(i), grid.centreY(j), height - kTouch_mm);
      if (z < height - kTouch_mm) take(grid, turned, i, j, z, effect);
    }
  }
}

std::vector<Component> componentsOf(const Grid& grid, int owner, const CellBox& box) {
  std::vector<Run> runs;
  std::vector<std::size_t> parent;
  std::size_t below = 0;
  for (int j = box.j0; j < box.j1; ++j) {
    const std::size_t middle = runs.size();
    addRunsOfRow(grid, owner, box, j, runs);
    parent.resize(runs.size());
    std::iota(parent.begin() + static_cast<std::ptrdiff_t>(middle), parent.end(), middle);
    joinRows(grid, runs, below, middle, runs.size(), parent);
    below = middle;
  }
  std::vector<Component> components = gather(runs, parent);
  std::stable_sort(components.begin(), components.end(),
                   [](const Component& a, const Component& b) { return a.cells > b.cells; });
  return components;
}

bool squareStands(const Grid& grid, int owner, const Place& place) {
  if (place.i < 0) return false;
  for (int j = place.j; j < place.j + squareCells(grid.dy); ++j) {
    for (int i = place.i; i < place.i + squareCells(grid.dx); ++i) {
      if (grid.owner[static_cast<std::size_t>(grid.index(i, j))] != owner) return false;
    }
  }
  return true;
}

Place squareWithin(const Grid& grid, int owner, const CellBox& box) {
  const int wide = squareCells(grid.dx);
  const int high = squareCells(grid.dy);
  std::vector<int> column(static_cast<std::size_t>(box.i1 - box.i0), 0);  // cells of the owner in line down to here
  for (int j = box.j0; j < box.j1; ++j) {
    int row = 0;  // columns in line that are high enough
    for (int i = box.i0; i < box.i1; ++i) {
      int& cells = column[static_cast<std::size_t>(i - box.i0)];
      cells = grid.owner[static_cast<std::size_t>(grid.index(i, j))] == owner ? cells + 1 : 0;
      row = cells >= high ? row + 1 : 0;
      if (row >= wide) return {i - wide + 1, j - high + 1};
    }
  }
  return {};
}

double largestSquare_mm(const Grid& grid, int owner, const CellBox& box) {
  // The largest square that ends in a cell is one larger than the least of those left, below and left below of it.
  std::vector<int> row(static_cast<std::size_t>(box.i1 - box.i0) + 1, 0);
  int largest = 0;
  for (int j = box.j0; j < box.j1; ++j) {
    int left_below = 0;
    for (int i = box.i0; i < box.i1; ++i) {
      const auto k = static_cast<std::size_t>(i - box.i0) + 1;
      const int below = row[k];
      const bool mine = grid.owner[static_cast<std::size_t>(grid.index(i, j))] == owner;
      row[k] = mine ? 1 + std::min({row[k - 1], below, left_below}) : 0;
      left_below = below;
      largest = std::max(largest, row[k]);
    }
  }
  return largest * std::min(grid.dx, grid.dy);
}

}  // namespace provecut::reference
