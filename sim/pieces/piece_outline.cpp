#include "sim/pieces/piece_outline.h"

#include <algorithm>
#include <array>
#include <cstdint>

#include "sim/path/setup_frame.h"
#include "sim/pieces/cell_raster.h"
#include "sim/placing/outline_trace.h"

namespace provecut::pieces {

namespace {

// Of a cell; with the smoothing of single steps before it, a ring stays within a cell of the edges.
constexpr double ring_tolerance = 0.5;

// Stretches as long as this meet in a corner of the piece: on a line or an arc one of two is shorter.
constexpr int corner_cells = 3;
// A straight side is as many times longer than the stretches that run on beside it. Where an arc turns it is five times
// at most: of a circle of radius r in cells, 2.83 against 0.59 times the root of r.
constexpr int side_share = 6;

using Raster = CellRaster<std::uint8_t>;

struct Corner {
  int x = 0, y = 0;
  friend bool operator==(const Corner&, const Corner&) = default;
};

// A way along a cell's edge. Turning left is the next one.
constexpr std::array<Corner, 4> sides_of_cell{{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}};
// The cell on the left of an edge that leaves a corner, as a step from the cell whose lower left corner that is.
constexpr std::array<Corner, 4> on_left{{{0, 0}, {-1, 0}, {-1, -1}, {0, -1}}};

// A straight stretch of a ring.
struct Stretch {
  Corner from;
  int way = 0, length = 0;
};

bool isIn(const Raster& r, int x, int y) {
  return r.cells[r.index(x, y)] != 0;
}

bool leftOf(const Raster& r, Corner c, int way) {
  return isIn(r, c.x + on_left[way].x, c.y + on_left[way].y);
}

// Where the ring goes on at the end of an edge: to the left wherever it can, so that cells which meet at a corner stay
// apart.
int nextWay(const Raster& r, Corner end, int way) {
  const int right = (way + 3) % 4;
  // What lies ahead on the left of a way is on the right of the way to its left.
  if (!leftOf(r, end, way)) return (way + 1) % 4;
  return leftOf(r, end, right) ? right : way;
}

// The ring with the piece on its left that starts along the lower edge of a cell. Marks the lower edges that it runs
// along.
std::vector<Stretch> ringFrom(const Raster& r, Corner start, std::vector<std::uint8_t>& seen) {
  std::vector<Stretch> ring{{start, 0, 0}};
  Corner at = start;
  int way = 0;
  do {
    if (way == 0) seen[r.index(at.x, at.y)] = 1;
    at = {at.x + sides_of_cell[way].x, at.y + sides_of_cell[way].y};
    ++ring.back().length;
    const int next = nextWay(r, at, way);
    if (next != way && !(at == start && next == 0)) ring.push_back({at, next, 0});
    way = next;
  } while (!(at == start && way == 0));
  return ring;
}

// A straight side along an axis, which runs into arcs.
bool isSide(const std::vector<Stretch>& ring, std::size_t k) {
  const std::size_t n = ring.size();
  return ring[k].length >= side_share * std::max(ring[(k + n - 2) % n].length, ring[(k + 2) % n].length);
}

// Lines and arcs come out of the raster as short steps: of each only the middle counts.
std::vector<SetupPoint2> smoothed(const Raster& r, const std::vector<Stretch>& ring) {
  std::vector<SetupPoint2> points;
  const auto put = [&](double x, double y) { points.push_back({(r.x0 + x) * r.cell_x_mm, (r.y0 + y) * r.cell_y_mm}); };
  for (std::size_t k = 0; k < ring.size(); ++k) {
    const std::size_t before = k == 0 ? ring.size() - 1 : k - 1;
    const Stretch& s = ring[k];
    const bool corner = s.length >= corner_cells && ring[before].length >= corner_cells;
    if (corner || isSide(ring, k) || isSide(ring, before)) put(s.from.x, s.from.y);
    put(s.from.x + sides_of_cell[s.way].x * s.length / 2.0, s.from.y + sides_of_cell[s.way].y * s.length / 2.0);
  }
  return points;
}

}  // namespace

std::vector<StockRing> pieceOutline(const cutting::DexelField& f, std::span<const cutting::Cell> cells,
                                    const Stock& stock, const Setup& setup) {
  std::vector<StockRing> rings;
  // With a rim of empty cells.
  const Raster r = rasterOf<std::uint8_t>(f, cells, {1, 1}, 1, 0);
  std::vector<std::uint8_t> seen(r.cells.size(), 0);
  const double tolerance_mm = ring_tolerance * std::min(f.cell_x_mm, f.cell_y_mm);
  const auto inStock = [&](double x, double y) { return setupToStock(stock, setup, SetupPoint2{x, y}); };
  const bool mirrored = cross(inStock(1, 0) - inStock(0, 0), inStock(0, 1) - inStock(0, 0)) < 0;
  for (int y = 1; y < r.ny; ++y) {
    for (int x = 1; x < r.nx; ++x) {
      if (!isIn(r, x, y) || isIn(r, x, y - 1) || seen[r.index(x, y)]) continue;
      StockRing ring;
      for (const SetupPoint2 p : placing::simplified(smoothed(r, ringFrom(r, {x, y}, seen)), tolerance_mm))
        ring.push_back(setupToStock(stock, setup, p));
      if (mirrored) std::reverse(ring.begin(), ring.end());
      rings.push_back(std::move(ring));
    }
  }
  return rings;
}

}  // namespace provecut::pieces
