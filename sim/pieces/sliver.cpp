#include "sim/pieces/sliver.h"

#include <tbb/blocked_range.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "sim/pieces/pieces.h"

namespace provecut::pieces {

namespace {

using cutting::Cell;

constexpr double shortest_wall_mm = 3;
// A film thinner than this goes with the chips; so does what two passes side by side leave by rounding.
constexpr double thinnest_mm = 0.15;
constexpr std::size_t max_slivers = 40;
constexpr float least_height = static_cast<float>(sliver_height_mm);

// A straight line of cells. There is nothing beyond its ends, at the edges of the stock.
struct Line {
  const cutting::DexelField& f;
  Cell origin;
  int step, n;
  Cell at(int i) const { return origin + i * step; }
  float top(int i) const { return i < 0 || i >= n ? -1e30F : f.top[at(i)]; }
  // Share of the cell's width that the wall takes, which is `full` high and stands on `foot`.
  double share(int i, float foot, float full) const {
    if (i < 0 || i >= n) return 0;
    return double{std::clamp((f.top_mean[at(i)] - foot) / (full - foot), 0.0F, 1.0F)};
  }
};

struct Width {
  double mm = std::numeric_limits<double>::infinity();
  float foot = 0;  // the higher of its two feet
};

// How wide the material is, sliver_height_mm below the top of cell i, along the line; infinite where wider than a
// sliver.
Width widthAt(const Line& line, int i, double cell_mm) {
  const float top = line.top(i), level = top - static_cast<float>(sliver_height_mm) + cutting::no_material_mm;
  // The wall's faces may fall within cells: two more than fit.
  const int reach = static_cast<int>(2 * sliver_width_mm / cell_mm) + 2;
  int left = i - 1, right = i + 1;
  while (i - left <= reach && line.top(left) > level) --left;
  if (line.top(left) > level) return {};
  while (right - left <= reach && line.top(right) > level) ++right;
  if (line.top(right) > level) return {};
  float foot_left = line.top(left), foot_right = line.top(right);
  // A foot lies where the wall ends, not half way down a slope.
  for (int k = 1; k <= 2; ++k) {
    foot_left = std::min(foot_left, line.top(left - k));
    foot_right = std::min(foot_right, line.top(right + k));
  }
  foot_left = std::max(foot_left, 0.0F);
  foot_right = std::max(foot_right, 0.0F);
  Width w;
  w.foot = std::max(foot_left, foot_right);
  double width = 0;
  for (int k = left; k <= right; ++k) width += line.share(k, k < i ? foot_left : k > i ? foot_right : w.foot, top);
  w.mm = width * cell_mm;
  return w;
}

// A cell of a sliver.
struct SliverCell {
  int x = 0;
  float width = 0, height = 0;  // width 0: no sliver here
};

SliverCell look(const cutting::DexelField& f, int x, int y) {
  const Cell c = f.index(x, y);
  const Line row{f, f.index(0, y), 1, f.nx}, column{f, f.index(x, 0), f.stride, f.ny};
  const Width across = widthAt(row, x, f.cell_x_mm), along = widthAt(column, y, f.cell_y_mm);
  if (std::isinf(across.mm) && std::isinf(along.mm)) return {};
  const double wx = across.mm, wy = along.mm;
  // A straight wall that runs aslant is thinner than either way through it.
  const double width = std::isinf(wx) ? wy : std::isinf(wy) ? wx : wx * wy / std::hypot(wx, wy);
  if (width >= sliver_width_mm || width < thinnest_mm) return {x};
  const float foot = std::isinf(wx) ? along.foot : std::isinf(wy) ? across.foot : std::max(across.foot, along.foot);
  return {x, static_cast<float>(width), f.top[c] - std::max(foot, f.floor[c])};
}

struct Change {
  const cutting::DexelField& before;
  const cutting::DexelField& after;
};

// Calls visit(cell) for the cells `distance` away to the four sides.
template <class Visit>
void onFourSides(const cutting::DexelField& f, int x, int y, int distance, const Visit& visit) {
  for (const auto& [dx, dy] :
       {std::pair{distance, 0}, std::pair{-distance, 0}, std::pair{0, distance}, std::pair{0, -distance}}) {
    if (f.inside(x + dx, y + dy)) visit(f.index(x + dx, y + dy));
  }
}

// A sliver's own width in cells: within it the program's cut begins.
int cellsWide(const cutting::DexelField& f) {
  return static_cast<int>(sliver_width_mm / std::max(f.cell_x_mm, f.cell_y_mm)) + 1;
}

// True if the program made n a sliver's height lower than c.
bool dropsTo(const Change& change, Cell c, Cell n) {
  const cutting::DexelField& f = change.after;
  return f.top[c] - f.top[n] >= least_height - cutting::no_material_mm &&
         change.before.top[n] - f.top[n] > cutting::no_material_mm;
}

// A sliver has a drop of its height within its own width on some side, made by this program.
bool isSteep(const Change& change, int x, int y) {
  bool steep = false;
  for (const int distance : {1, cellsWide(change.after)}) {
    onFourSides(change.after, x, y, distance,
                [&](Cell n) { steep = steep || dropsTo(change, change.after.index(x, y), n); });
  }
  return steep;
}

// By row.
std::vector<std::vector<SliverCell>> sliverCells(const Change& change) {
  const cutting::DexelField& f = change.after;
  std::vector<std::vector<SliverCell>> cells(f.ny);
  tbb::parallel_for(tbb::blocked_range<int>(0, f.ny), [&](const tbb::blocked_range<int>& rows) {
    for (int y = rows.begin(); y < rows.end(); ++y) {
      for (int x = 0; x < f.nx; ++x) {
        if (f.thickness(f.index(x, y)) < least_height || !isSteep(change, x, y)) continue;
        if (const SliverCell here = look(f, x, y); here.width > 0) cells[y].push_back(here);
      }
    }
  });
  return cells;
}

// Adds what one of its cells says of a sliver.
void add(const Change& change, const Pieces& regions, const SliverCell& here, int y, FoundSliver& s,
         std::uint8_t& stands_free) {
  const cutting::DexelField& f = change.after;
  const Cell c = f.index(here.x, y);
  if (double{here.height} > s.height_mm) s.height_mm = cutting::shownHeight_mm(here.height);
  if (s.width_mm == 0 || double{here.width} < s.width_mm) {
    s.width_mm = double{here.width};
    s.at = atHeight(f.centre(here.x, y), cutting::shownHeight_mm(f.top[c]));
  }
  onFourSides(f, here.x, y, 1, [&](Cell n) {
    if (regions.label[n] != regions.label[c] && f.thickness(n) > cutting::no_material_mm &&
        f.top[n] > f.top[c] - least_height)
      stands_free = 0;
  });
  for (int d = 1; d <= cellsWide(f); ++d) {
    onFourSides(f, here.x, y, d, [&](Cell n) {
      if (dropsTo(change, c, n)) s.beside.push_back(n);
    });
  }
}

}  // namespace

std::vector<FoundSliver> slivers(const cutting::DexelField& before, const cutting::DexelField& after) {
  const Change change{before, after};
  const std::vector<std::vector<SliverCell>> cells = sliverCells(change);
  Mask left_out(after.top.size(), 1);
  bool any = false;
  for (int y = 0; y < after.ny; ++y) {
    for (const SliverCell& here : cells[y]) {
      left_out[after.index(here.x, y)] = 0;
      any = true;
    }
  }
  if (!any) return {};

  const Pieces regions = labelPieces(after, &left_out);
  std::vector<FoundSliver> found(regions.shapes.size());
  Mask stands_free(regions.shapes.size(), 1);
  for (int y = 0; y < after.ny; ++y) {
    for (const SliverCell& here : cells[y]) {
      const Label l = regions.label[after.index(here.x, y)];
      if (l != 0) add(change, regions, here, y, found[l - 1], stands_free[l - 1]);
    }
  }
  std::vector<FoundSliver> out;
  for (std::size_t k = 0; k < found.size(); ++k) {
    const Vec3 size = regions.shapes[k].box.high - regions.shapes[k].box.low;
    const bool is_long = std::hypot(size.x, size.y) >= shortest_wall_mm;
    if (found[k].height_mm >= sliver_height_mm - 1e-4 && (is_long || stands_free[k]))
      out.push_back(std::move(found[k]));
  }
  std::stable_sort(out.begin(), out.end(),
                   [](const FoundSliver& a, const FoundSliver& b) { return a.height_mm > b.height_mm; });
  if (out.size() > max_slivers) out.resize(max_slivers);
  return out;
}

}  // namespace provecut::pieces
