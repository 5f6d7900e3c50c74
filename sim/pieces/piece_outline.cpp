#include "sim/pieces/piece_outline.h"

#include <algorithm>
#include <array>
#include <cstdint>

#include "sim/path/setup_frame.h"
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

// The piece as a raster of its own, with a rim of empty cells.
struct Raster {
  int x0 = 0, y0 = 0, nx = 0, ny = 0;
  std::vector<std::uint8_t> in;
  bool at(int x, int y) const { return in[static_cast<std::size_t>(y) * nx + x] != 0; }
};

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

Raster rasterOf(const cutting::DexelField& f, std::span<const cutting::Cell> cells) {
  Raster r;
  int x_low = f.nx, x_high = -1, y_low = f.ny, y_high = -1;
  for (const cutting::Cell c : cells) {
    const auto [x, y] = f.place(c);
    x_low = std::min(x_low, x);
    x_high = std::max(x_high, x);
    y_low = std::min(y_low, y);
    y_high = std::max(y_high, y);
  }
  r.x0 = x_low - 1;
  r.y0 = y_low - 1;
  r.nx = x_high - x_low + 3;
  r.ny = y_high - y_low + 3;
  r.in.assign(static_cast<std::size_t>(r.nx) * r.ny, 0);
  for (const cutting::Cell c : cells) {
    const auto [x, y] = f.place(c);
    r.in[static_cast<std::size_t>(y - r.y0) * r.nx + (x - r.x0)] = 1;
  }
  return r;
}

bool leftOf(const Raster& r, Corner c, int way) {
  return r.at(c.x + on_left[way].x, c.y + on_left[way].y);
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
    if (way == 0) seen[static_cast<std::size_t>(at.y) * r.nx + at.x] = 1;
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
std::vector<SetupPoint2> smoothed(const Raster& r, const cutting::DexelField& f, const std::vector<Stretch>& ring) {
  std::vector<SetupPoint2> points;
  const auto put = [&](double x, double y) { points.push_back({(r.x0 + x) * f.cell_x_mm, (r.y0 + y) * f.cell_y_mm}); };
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
  if (cells.empty()) return rings;
  const Raster r = rasterOf(f, cells);
  std::vector<std::uint8_t> seen(r.in.size(), 0);
  const double tolerance_mm = ring_tolerance * std::min(f.cell_x_mm, f.cell_y_mm);
  const auto inStock = [&](double x, double y) { return setupToStock(stock, setup, SetupPoint2{x, y}); };
  const bool mirrored = cross(inStock(1, 0) - inStock(0, 0), inStock(0, 1) - inStock(0, 0)) < 0;
  for (int y = 1; y < r.ny; ++y) {
    for (int x = 1; x < r.nx; ++x) {
      if (!r.at(x, y) || r.at(x, y - 1) || seen[static_cast<std::size_t>(y) * r.nx + x]) continue;
      StockRing ring;
      for (const SetupPoint2 p : placing::simplified(smoothed(r, f, ringFrom(r, {x, y}, seen)), tolerance_mm))
        ring.push_back(setupToStock(stock, setup, p));
      if (mirrored) std::reverse(ring.begin(), ring.end());
      rings.push_back(std::move(ring));
    }
  }
  return rings;
}

}  // namespace provecut::pieces
