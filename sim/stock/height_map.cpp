#include "sim/stock/height_map.h"

#include <algorithm>
#include <cmath>

namespace provecut::cutting {

namespace {

// Where the dexels of coarse cell `i` of `of` begin among `dexels`.
int firstDexel(int i, int of, int dexels) {
  return static_cast<int>(std::int64_t{i} * dexels / of);
}

int coarse(int dexels, double factor) {
  return std::max(1, static_cast<int>(std::floor(dexels / factor)));
}

// A coarse cell's dexels.
struct Block {
  int x0, x1, y0, y1;
  int size() const { return (y1 - y0) * (x1 - x0); }
};

// The mean of the block's dexels, or nothing where most of them hold nothing.
DexelSegment meanOf(const DexelField& field, const Block& b) {
  float top = 0, floor = 0, lowest = 0;
  int solid = 0;
  for (int y = b.y0; y < b.y1; ++y) {
    for (Cell c = field.index(b.x0, y), end = field.index(b.x1, y); c < end; ++c) {
      lowest += field.floor[c];
      if (field.thickness(c) <= no_material_mm) continue;
      top += field.top[c];
      floor += field.floor[c];
      ++solid;
    }
  }
  if (2 * solid >= b.size() && solid > 0) {
    const float n = static_cast<float>(solid);
    return {floor / n, top / n};
  }
  lowest /= static_cast<float>(b.size());
  return {lowest, lowest};
}

}  // namespace

HeightMap heightMap(const DexelField& field, std::size_t max_cells) {
  const double cells = 1.0 * field.nx * field.ny;
  const double factor = std::max(1.0, std::sqrt(cells / static_cast<double>(std::max<std::size_t>(max_cells, 1))));
  HeightMap map;
  map.nx = coarse(field.nx, factor);
  map.ny = coarse(field.ny, factor);
  map.cell_x_mm = field.cell_x_mm * field.nx / map.nx;
  map.cell_y_mm = field.cell_y_mm * field.ny / map.ny;
  map.top.reserve(map.nx * map.ny);
  map.floor.reserve(map.nx * map.ny);
  for (int y = 0; y < map.ny; ++y) {
    const int y0 = firstDexel(y, map.ny, field.ny), y1 = firstDexel(y + 1, map.ny, field.ny);
    for (int x = 0; x < map.nx; ++x) {
      const int x0 = firstDexel(x, map.nx, field.nx), x1 = firstDexel(x + 1, map.nx, field.nx);
      const Cell middle = field.index((x0 + x1) / 2, (y0 + y1) / 2);
      if (field.undercut.holds(middle)) {
        DexelSegment plain;
        const auto segments = centreSegments(field, middle, plain);
        if (segments.size() > 1)
          map.overhangs.push_back({static_cast<std::uint32_t>(map.top.size()), {segments.begin(), segments.end()}});
      }
      const DexelSegment mean = meanOf(field, {x0, x1, y0, y1});
      map.top.push_back(mean.high);
      map.floor.push_back(mean.low);
    }
  }
  return map;
}

}  // namespace provecut::cutting
