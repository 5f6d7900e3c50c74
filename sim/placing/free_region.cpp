#include "sim/placing/free_region.h"

#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <numbers>

#include "parser/job/outline_check.h"
#include "sim/placing/outline_trace.h"

namespace provecut::placing {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
// Rounding: what might be the least is looked at, so that every square finds the very same value at a common corner.
constexpr double slack_mm = 1e-9;
constexpr int block_cells = 4, tile_cells = 64;  // a tile's row of cells is one word of bits
// In a triangle of two corners and the middle of a cell of side 1, the mean distance from a point to the three of them,
// weighted by its barycentric coordinates, is at most this (its largest value, 0.5, is met in the middle of the long
// side).
constexpr double interpolation_error = 0.5;

struct Square {
  int x = 0, y = 0, cells = 0;
};

// A stretch that may decide somewhere in a square, and its value in the middle.
struct Near {
  const Stretch* stretch = nullptr;
  double value = 0;
};

struct Tile {
  Square square;
  std::vector<Near> near;
};

// A cell in which nothing of the region was found, but which may hold a clear place.
struct Doubtful {
  int x = 0, y = 0;
  std::vector<Near> near;
};

struct TileResult {
  std::vector<Segment> outline;
  std::vector<Doubtful> doubtful;
};

// The grid of cells over the box, and one bit for each: something of the region lies in it.
struct Grid {
  SetupPoint2 low;
  double cell = 0;
  int nx = 0, ny = 0;  // multiples of block_cells
  std::size_t words = 0;
  std::vector<std::uint64_t> holds;

  SetupPoint2 node(int x, int y) const { return {low.x + x * cell, low.y + y * cell}; }
  bool outside(const Square& s) const { return s.x >= nx || s.y >= ny; }
  void mark(const Square& s) {
    const int x1 = std::min(nx, s.x + s.cells), y1 = std::min(ny, s.y + s.cells);
    for (int y = s.y; y < y1; ++y) {
      for (int x = s.x; x < x1;) {
        const int bit = x % tile_cells, count = std::min(tile_cells - bit, x1 - x);
        const std::uint64_t ones = count == tile_cells ? ~std::uint64_t{0} : ((std::uint64_t{1} << count) - 1) << bit;
        holds[static_cast<std::size_t>(y) * words + static_cast<std::size_t>(x / tile_cells)] |= ones;
        x += count;
      }
    }
  }
  bool marked(int x, int y) const {
    if (x < 0 || y < 0 || x >= nx || y >= ny) return false;
    return (holds[static_cast<std::size_t>(y) * words + static_cast<std::size_t>(x / tile_cells)] >> (x % tile_cells)) &
           1;
  }
};

struct Search {
  std::span<const Stretch> stretches;
  const Footprint& form;
  Grid& grid;
  double level = 0;  // the outline runs where the interpolated distance has this value
  double cap = 0;    // distances above it need not be known

  double halfDiagonal(int cells) const { return cells * grid.cell * std::numbers::sqrt2 / 2; }

  // The least value at p, and in `kept` those stretches that can decide within `half` of it, the least first: those
  // that may come below `cap` there and below the least one.
  double least(const std::vector<Near>& of, SetupPoint2 p, double half, std::vector<Near>& kept) const {
    double lowest = infinity;
    for (const Near& n : of) {
      const double v = keptOut(*n.stretch, form, p, std::min(half + cap, lowest + 2 * half) + slack_mm);
      if (v < -half) return v;
      lowest = std::min(lowest, v);
      if (v <= std::min(half + cap, lowest + 2 * half) + slack_mm) kept.push_back({n.stretch, v});
    }
    std::erase_if(kept, [&](const Near& n) { return n.value > lowest + 2 * half + slack_mm; });
    std::sort(kept.begin(), kept.end(), [](const Near& a, const Near& b) {
      return a.value != b.value ? a.value < b.value : a.stretch < b.stretch;
    });
    return lowest;
  }

  // The value at p, at most `half` from the middle for which `of` was kept.
  double value(const std::vector<Near>& of, SetupPoint2 p, double half) const {
    double v = cap;
    for (const Near& n : of) {
      if (n.value - half >= v + slack_mm) break;  // and all after it
      v = std::min(v, keptOut(*n.stretch, form, p, v + slack_mm));
    }
    return v;
  }

  enum class State { dead, whole, open };
  State lookAt(const Square& s, const std::vector<Near>& of, std::vector<Near>& kept) const {
    const double half = halfDiagonal(s.cells);
    const SetupPoint2 centre = grid.node(s.x, s.y) + Vec2{s.cells * grid.cell / 2, s.cells * grid.cell / 2};
    const double v = least(of, centre, half, kept);
    if (v < -half) return State::dead;
    return v >= half + level ? State::whole : State::open;
  }

  // The edges of a square that lie on the border of what is looked at belong to the outline.
  void border(const Square& s, std::vector<Segment>& out) const {
    const int x1 = std::min(grid.nx, s.x + s.cells), y1 = std::min(grid.ny, s.y + s.cells);
    if (s.y == 0) out.push_back({grid.node(s.x, 0), grid.node(x1, 0)});
    if (x1 == grid.nx) out.push_back({grid.node(x1, s.y), grid.node(x1, y1)});
    if (y1 == grid.ny) out.push_back({grid.node(x1, y1), grid.node(s.x, y1)});
    if (s.x == 0) out.push_back({grid.node(0, y1), grid.node(0, s.y)});
  }

  void tiles(const Square& s, const std::vector<Near>& of, std::vector<Tile>& open,
             std::vector<Segment>& outline) const {
    if (grid.outside(s)) return;
    std::vector<Near> kept;
    const State state = lookAt(s, of, kept);
    if (state == State::dead) return;
    if (state == State::whole) {
      grid.mark(s);
      border(s, outline);
    } else if (s.cells == tile_cells) {
      open.push_back({s, std::move(kept)});
    } else {
      quarter(s, [&](const Square& q) { tiles(q, kept, open, outline); });
    }
  }

  template <class Each>
  static void quarter(const Square& s, const Each& each) {
    const int half = s.cells / 2;
    for (const int y : {s.y, s.y + half}) {
      for (const int x : {s.x, s.x + half}) each(Square{x, y, half});
    }
  }

  void look(const Square& s, const std::vector<Near>& of, TileResult& out) const {
    if (grid.outside(s)) return;
    std::vector<Near> kept;
    const State state = lookAt(s, of, kept);
    if (state == State::dead) return;
    if (state == State::whole) {
      grid.mark(s);
      border(s, out.outline);
    } else if (s.cells > block_cells) {
      quarter(s, [&](const Square& q) { look(q, kept, out); });
    } else {
      block(s, kept, out);
    }
  }

  void block(const Square& s, const std::vector<Near>& near, TileResult& out) const {
    std::array<double, (block_cells + 1) * (block_cells + 1)> nodes;
    for (int y = 0; y <= block_cells; ++y) {
      for (int x = 0; x <= block_cells; ++x) {
        nodes[static_cast<std::size_t>(y * (block_cells + 1) + x)] =
            value(near, grid.node(s.x + x, s.y + y), halfDiagonal(block_cells));
      }
    }
    for (int y = 0; y < block_cells; ++y) {
      for (int x = 0; x < block_cells; ++x) {
        const auto at = [&](int i, int j) {
          return nodes[static_cast<std::size_t>((y + j) * (block_cells + 1) + x + i)];
        };
        cell({s.x + x, s.y + y, 1}, {at(0, 0), at(1, 0), at(1, 1), at(0, 1)}, near, out);
      }
    }
  }

  void cell(const Square& s, const std::array<double, 4>& corner, const std::vector<Near>& near,
            TileResult& out) const {
    const std::array<SetupPoint2, 4> at{grid.node(s.x, s.y), grid.node(s.x + 1, s.y), grid.node(s.x + 1, s.y + 1),
                                        grid.node(s.x, s.y + 1)};
    const SetupPoint2 centre = at[0] + Vec2{grid.cell / 2, grid.cell / 2};
    // Often the corners alone tell: the middle differs from each by no more than half a diagonal.
    const auto [low, high] = std::minmax_element(corner.begin(), corner.end());
    if (*high < level && *low + 2 * halfDiagonal(1) < 0) return;
    const bool inside = *low >= level && *high - halfDiagonal(1) >= level;
    const double middle = inside ? *high - halfDiagonal(1) : value(near, centre, halfDiagonal(block_cells));
    const bool any = middle >= level || std::any_of(corner.begin(), corner.end(), [&](double v) { return v >= level; });
    if (!any) {
      if (middle + halfDiagonal(1) >= 0) out.doubtful.push_back({s.x, s.y, near});
      return;
    }
    grid.mark(s);
    const std::array<bool, 4> on_border{s.y == 0, s.x + 1 == grid.nx, s.y + 1 == grid.ny, s.x == 0};
    for (std::size_t k = 0; k < 4; ++k) {
      const std::size_t n = (k + 1) % 4;
      const std::array<LevelPoint, 3> triangle{
          {{at[k], corner[k] - level}, {at[n], corner[n] - level}, {centre, middle - level}}};
      traceTriangle(triangle, out.outline);
      if (on_border[k]) traceEdge(triangle[0], triangle[1], out.outline);
    }
  }

  // A clear place in the cell, as a small square of its own, if there is one.
  void closeLook(const Doubtful& d, std::vector<std::vector<SetupPoint2>>& rings) const {
    for (int y = d.y - 1; y <= d.y + 1; ++y) {
      for (int x = d.x - 1; x <= d.x + 1; ++x) {
        if (grid.marked(x, y)) return;  // a place near enough is in the region
      }
    }
    const SetupPoint2 centre = grid.node(d.x, d.y) + Vec2{grid.cell / 2, grid.cell / 2};
    findPlace(centre, grid.cell, d.near, rings);
  }

  bool findPlace(SetupPoint2 centre, double side, const std::vector<Near>& of,
                 std::vector<std::vector<SetupPoint2>>& rings) const {
    constexpr double least_clear = 0.001;
    const double half = side * std::numbers::sqrt2 / 2;
    std::vector<Near> kept;
    const double v = least(of, centre, half, kept);
    if (v < -half) return false;
    if (v > least_clear) {
      const double r = std::min({v, side * std::numbers::sqrt2 / 2, cap}) / std::numbers::sqrt2;
      rings.push_back({centre + Vec2{-r, -r}, centre + Vec2{r, -r}, centre + Vec2{r, r}, centre + Vec2{-r, r}});
      return true;
    }
    if (side < 4 * least_clear) return false;
    const double q = side / 4;
    for (const Vec2 to : {Vec2{-q, -q}, Vec2{q, -q}, Vec2{-q, q}, Vec2{q, q}}) {
      if (findPlace(centre + to, side / 2, kept, rings)) return true;
    }
    return false;
  }
};

}  // namespace

bool FreeRegion::contains(SetupPoint2 p) const {
  bool in = false;
  for (const std::vector<SetupPoint2>& ring : rings) {
    for (std::size_t i = 0, before = ring.size() - 1; i < ring.size(); before = i++) {
      const SetupPoint2 a = ring[before], b = ring[i];
      if ((a.y <= p.y) == (b.y <= p.y)) continue;
      if ((cross(b - a, p - a) > 0) == (b.y > a.y)) in = !in;
    }
  }
  return in;
}

FreeRegion freeRegion(std::span<const Stretch> stretches, const clearance::Obstacle& form, SetupPoint2 low,
                      SetupPoint2 high, double resolution) {
  FreeRegion region;
  region.low = low;
  region.high = high;
  region.resolution_mm = resolution;
  if (!(high.x > low.x && high.y > low.y)) return region;

  // A place in a cell and a place in one beside it are at most two diagonals apart; simplifying adds its own tolerance.
  const double simplified_by = resolution / 25;
  Grid grid;
  grid.low = low;
  const double side = (resolution - simplified_by) / (2 * std::numbers::sqrt2);
  // The cells divide the longer side; the box is cut to whole blocks by making them as much smaller as that takes.
  const auto blocks = [&](double extent) { return std::max(1.0, std::ceil(extent / (side * block_cells) - 1e-9)); };
  const double bx = blocks(high.x - low.x), by = blocks(high.y - low.y);
  grid.cell = std::max((high.x - low.x) / bx, (high.y - low.y) / by) / block_cells;
  grid.nx = static_cast<int>(std::ceil((high.x - low.x) / grid.cell / block_cells - 1e-9)) * block_cells;
  grid.ny = static_cast<int>(std::ceil((high.y - low.y) / grid.cell / block_cells - 1e-9)) * block_cells;
  region.high = grid.node(grid.nx, grid.ny);
  grid.words = static_cast<std::size_t>(grid.nx / tile_cells + 1);
  grid.holds.assign(grid.words * static_cast<std::size_t>(grid.ny), 0);

  const double level = interpolation_error * grid.cell + simplified_by;
  const Footprint footprint = footprintOf(form);
  const Search search{stretches, footprint, grid, level, level + 2 * grid.cell};
  std::vector<Near> all;
  all.reserve(stretches.size());
  for (const Stretch& s : stretches) all.push_back({&s, 0});
  int cells = tile_cells;
  while (cells < std::max(grid.nx, grid.ny)) cells *= 2;
  std::vector<Tile> tiles;
  std::vector<Segment> outline;
  search.tiles({0, 0, cells}, all, tiles, outline);

  std::vector<TileResult> results(tiles.size());
  tbb::parallel_for(std::size_t{0}, tiles.size(),
                    [&](std::size_t i) { search.look(tiles[i].square, tiles[i].near, results[i]); });
  std::vector<std::vector<SetupPoint2>> places;
  for (const TileResult& r : results) outline.insert(outline.end(), r.outline.begin(), r.outline.end());
  for (const TileResult& r : results) {
    for (const Doubtful& d : r.doubtful) search.closeLook(d, places);
  }
  for (std::vector<SetupPoint2>& ring : ringsOf(outline)) region.rings.push_back(simplified(ring, simplified_by));
  region.rings.insert(region.rings.end(), places.begin(), places.end());
  for (const std::vector<SetupPoint2>& ring : region.rings) region.area_mm2 += signedArea(ring);
  return region;
}

}  // namespace provecut::placing
