#include "sim/pieces/sliver.h"

#include <tbb/blocked_range.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "sim/pieces/pieces.h"

namespace provecut::pieces {

namespace {

constexpr double shortest_wall_mm = 3;
// A film thinner than this goes with the chips; so does what two passes side by side leave by rounding.
constexpr double thinnest_mm = 0.15;
constexpr std::size_t max_slivers = 40;

// A straight line of cells, of which the first and last are beyond the stock: nothing.
struct Line {
  const cutting::DexelField& f;
  std::ptrdiff_t origin, step;
  int n;
  std::size_t at(int i) const { return static_cast<std::size_t>(origin + i * step); }
  float top(int i) const { return i < 0 || i >= n ? -1e30F : f.top[at(i)]; }
  // Share of the cell's width that the wall takes, which is `full` high and stands on `foot`.
  double share(int i, float foot, float full) const {
    if (i < 0 || i >= n) return 0;
    return static_cast<double>(std::clamp((f.top_mean[at(i)] - foot) / (full - foot), 0.0F, 1.0F));
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

struct Seen {
  int x = 0;
  float width = 0, height = 0;  // width 0: no sliver here
};

Seen look(const cutting::DexelField& f, int x, int y) {
  const auto stride = static_cast<std::ptrdiff_t>(f.stride);
  const Line row{f, static_cast<std::ptrdiff_t>(f.index(0, y)), 1, f.nx},
      dexel{f, static_cast<std::ptrdiff_t>(x), stride, f.ny};
  const Width across = widthAt(row, x, f.cell_x_mm), along = widthAt(dexel, y, f.cell_y_mm);
  if (std::isinf(across.mm) && std::isinf(along.mm)) return {};
  Seen seen{x};
  const double wx = across.mm, wy = along.mm;
  // A straight wall that runs aslant is thinner than either way through it.
  const double width = std::isinf(wx) ? wy : std::isinf(wy) ? wx : wx * wy / std::hypot(wx, wy);
  if (width >= sliver_width_mm || width < thinnest_mm) return {};
  const float foot = std::isinf(wx) ? along.foot : std::isinf(wy) ? across.foot : std::max(across.foot, along.foot);
  seen.width = static_cast<float>(width);
  seen.height = f.top[f.index(x, y)] - std::max(foot, f.floor[f.index(x, y)]);
  return seen;
}

}  // namespace

std::vector<FoundSliver> slivers(const cutting::DexelField& before, const cutting::DexelField& f) {
  std::vector<std::vector<Seen>> seen(static_cast<std::size_t>(f.ny));  // by row
  std::vector<std::uint8_t> left_out(f.top.size(), 1);
  const float least = static_cast<float>(sliver_height_mm);
  const auto stride = static_cast<std::ptrdiff_t>(f.stride);
  tbb::parallel_for(tbb::blocked_range<int>(0, f.ny), [&](const tbb::blocked_range<int>& rows) {
    for (int y = rows.begin(); y < rows.end(); ++y) {
      for (int x = 0; x < f.nx; ++x) {
        const std::size_t c = f.index(x, y);
        if (f.thickness(c) < least) continue;
        // A sliver has a drop of its height within its own width on some side, made by this program.
        bool steep = false;
        for (const int reach : {1, static_cast<int>(sliver_width_mm / std::max(f.cell_x_mm, f.cell_y_mm)) + 1}) {
          for (const auto& [dx, dy] :
               {std::pair{reach, 0}, std::pair{-reach, 0}, std::pair{0, reach}, std::pair{0, -reach}}) {
            if (!f.inside(x + dx, y + dy)) continue;
            const auto n = static_cast<std::size_t>(static_cast<std::ptrdiff_t>(c) + dx + dy * stride);
            steep = steep || (f.top[c] - f.top[n] >= least - cutting::no_material_mm &&
                              before.top[n] - f.top[n] > cutting::no_material_mm);
          }
        }
        if (!steep) continue;
        const Seen here = look(f, x, y);
        if (here.width > 0) {
          left_out[c] = 0;
          seen[static_cast<std::size_t>(y)].push_back(here);
        }
      }
    }
  });
  if (std::all_of(seen.begin(), seen.end(), [](const auto& row) { return row.empty(); })) return {};

  const Pieces regions = labelPieces(f, &left_out);
  std::vector<FoundSliver> found(regions.shapes.size());
  std::vector<std::uint8_t> stands_free(regions.shapes.size(), 1);
  for (int y = 0; y < f.ny; ++y) {
    for (const Seen& here : seen[static_cast<std::size_t>(y)]) {
      const int x = here.x;
      const std::size_t c = f.index(x, y);
      if (regions.label[c] == 0) continue;
      const auto k = static_cast<std::size_t>(regions.label[c] - 1);
      Sliver& s = found[k].sliver;
      if (static_cast<double>(here.height) > s.height_mm) s.height_mm = cutting::shownHeight_mm(here.height);
      if (s.radial_depth_mm == 0 || static_cast<double>(here.width) < s.radial_depth_mm) {
        s.radial_depth_mm = static_cast<double>(here.width);
        found[k].at = {f.centreX(x), f.centreY(y), cutting::shownHeight_mm(f.top[c])};
      }
      for (const auto& [dx, dy] : {std::pair{1, 0}, std::pair{-1, 0}, std::pair{0, 1}, std::pair{0, -1}}) {
        if (!f.inside(x + dx, y + dy)) continue;
        const auto n = static_cast<std::size_t>(static_cast<std::ptrdiff_t>(c) + dx + dy * stride);
        if (regions.label[n] != regions.label[c] && f.thickness(n) > cutting::no_material_mm &&
            f.top[n] > f.top[c] - least)
          stands_free[k] = 0;
      }
      // Within the wall's own width the program's cut begins.
      const int reach = static_cast<int>(sliver_width_mm / std::max(f.cell_x_mm, f.cell_y_mm)) + 1;
      for (int d = 1; d <= reach; ++d) {
        for (const auto& [dx, dy] : {std::pair{d, 0}, std::pair{-d, 0}, std::pair{0, d}, std::pair{0, -d}}) {
          if (!f.inside(x + dx, y + dy)) continue;
          const auto n = static_cast<std::size_t>(static_cast<std::ptrdiff_t>(c) + dx + dy * stride);
          if (f.top[c] - f.top[n] >= least - cutting::no_material_mm &&
              before.top[n] - f.top[n] > cutting::no_material_mm) {
            found[k].beside.push_back(static_cast<std::uint32_t>(n));
          }
        }
      }
    }
  }
  std::vector<FoundSliver> out;
  for (std::size_t k = 0; k < found.size(); ++k) {
    const Vec3 size = regions.shapes[k].box.high - regions.shapes[k].box.low;
    const bool is_long = std::hypot(size.x, size.y) >= shortest_wall_mm;
    if (found[k].sliver.height_mm >= sliver_height_mm - 1e-4 && (is_long || stands_free[k]))
      out.push_back(std::move(found[k]));
  }
  std::stable_sort(out.begin(), out.end(),
                   [](const FoundSliver& a, const FoundSliver& b) { return a.sliver.height_mm > b.sliver.height_mm; });
  if (out.size() > max_slivers) out.resize(max_slivers);
  return out;
}

}  // namespace provecut::pieces
