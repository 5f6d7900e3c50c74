#include "sim/height_map.h"

#include <algorithm>
#include <cmath>

namespace provecut {

namespace {

// Where the columns of coarse cell `i` of `of` begin among `columns`.
int firstColumn(int i, int of, int columns) {
  return static_cast<int>(static_cast<std::int64_t>(i) * columns / of);
}

int coarse(int columns, double factor) { return std::max(1, static_cast<int>(std::floor(columns / factor))); }

}  // namespace

HeightMap heightMap(const ColumnField& field, std::size_t most_cells) {
  const double cells = static_cast<double>(field.nx) * field.ny;
  const double factor = std::max(1.0, std::sqrt(cells / static_cast<double>(std::max<std::size_t>(most_cells, 1))));
  HeightMap map;
  map.nx = coarse(field.nx, factor);
  map.ny = coarse(field.ny, factor);
  map.cell_x_mm = field.cell_x_mm * field.nx / map.nx;
  map.cell_y_mm = field.cell_y_mm * field.ny / map.ny;
  const auto size = static_cast<std::size_t>(map.nx) * static_cast<std::size_t>(map.ny);
  map.top.reserve(size);
  map.floor.reserve(size);
  for (int y = 0; y < map.ny; ++y) {
    const int y0 = firstColumn(y, map.ny, field.ny), y1 = firstColumn(y + 1, map.ny, field.ny);
    for (int x = 0; x < map.nx; ++x) {
      const int x0 = firstColumn(x, map.nx, field.nx), x1 = firstColumn(x + 1, map.nx, field.nx);
      float top = 0, floor = 0, lowest = 0;
      int solid = 0;
      for (int sy = y0; sy < y1; ++sy) {
        for (std::size_t c = field.index(x0, sy), end = field.index(x1, sy); c < end; ++c) {
          lowest += field.floor[c];
          if (field.thickness(c) <= no_material_mm) continue;
          top += field.top[c];
          floor += field.floor[c];
          ++solid;
        }
      }
      const std::size_t middle = field.index((x0 + x1) / 2, (y0 + y1) / 2);
      if (field.undercut.holds(middle)) {
        MaterialRun plain;
        const auto runs = centreRuns(field, middle, plain);
        if (runs.size() > 1) map.hanging.push_back({static_cast<std::uint32_t>(map.top.size()), {runs.begin(), runs.end()}});
      }
      const int all = (y1 - y0) * (x1 - x0);
      if (2 * solid >= all && solid > 0) {
        map.top.push_back(top / static_cast<float>(solid));
        map.floor.push_back(floor / static_cast<float>(solid));
      } else {
        map.top.push_back(lowest / static_cast<float>(all));
        map.floor.push_back(map.top.back());
      }
    }
  }
  return map;
}

}  // namespace provecut
