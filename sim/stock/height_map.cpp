#include "sim/stock/height_map.h"

#include <algorithm>
#include <cmath>

namespace provecut::cutting {

namespace {

// Where the dexels of coarse cell `i` of `of` begin among `dexels`.
int firstDexel(int i, int of, int dexels) {
  return static_cast<int>(static_cast<std::int64_t>(i) * dexels / of);
}

int coarse(int dexels, double factor) {
  return std::max(1, static_cast<int>(std::floor(dexels / factor)));
}

}  // namespace

HeightMap heightMap(const DexelField& field, std::size_t max_cells) {
  const double cells = static_cast<double>(field.nx) * field.ny;
  const double factor = std::max(1.0, std::sqrt(cells / static_cast<double>(std::max<std::size_t>(max_cells, 1))));
  HeightMap map;
  map.nx = coarse(field.nx, factor);
  map.ny = coarse(field.ny, factor);
  map.cell_x_mm = field.cell_x_mm * field.nx / map.nx;
  map.cell_y_mm = field.cell_y_mm * field.ny / map.ny;
  const auto size = static_cast<std::size_t>(map.nx) * static_cast<std::size_t>(map.ny);
  map.top.reserve(size);
  map.floor.reserve(size);
  for (int y = 0; y < map.ny; ++y) {
    const int y0 = firstDexel(y, map.ny, field.ny), y1 = firstDexel(y + 1, map.ny, field.ny);
    for (int x = 0; x < map.nx; ++x) {
      const int x0 = firstDexel(x, map.nx, field.nx), x1 = firstDexel(x + 1, map.nx, field.nx);
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
        DexelSegment plain;
        const auto runs = centreSegments(field, middle, plain);
        if (runs.size() > 1)
          map.hanging.push_back({static_cast<std::uint32_t>(map.top.size()), {runs.begin(), runs.end()}});
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

}  // namespace provecut::cutting
